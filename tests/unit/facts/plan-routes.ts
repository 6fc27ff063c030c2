import { readFileSync } from 'node:fs'
import { type Band, hallLevels, type PlacedSource, rigSources } from '../../../src/acoustics/index.ts'
import { demoHallStates } from '../../../src/engine/scene/hall-content.ts'
import { hallOf } from '../../../src/engine/scene/hall-scene.ts'
import { solvedModel } from '../../../src/engine/scene/solved-gear.ts'
import { heardBands } from '../../../src/engine/scene/third-octaves.ts'
import type { Plan } from '../../../src/state/plan-schema.ts'
import { type EveningStep, eveningPlans, eveningSteps, setUpPlans } from '../../../src/widgets/decide/evening-plans.ts'
import { eveningFacts } from '../../../src/widgets/decide/evening-questions.ts'
import { offeredBoxes } from '../../../src/widgets/plan/plan-question.ts'
import { aDb, air, rig } from './plain-rig.ts'
import { once, plain, type Route, type Routes, readOut, route } from './route.ts'

// The evening of lesson 10 once more: all boxes at once in hallLevels, each set flat by itself, and sums by plain arithmetic.

const { short, description } = JSON.parse(readFileSync('content/gear/top-over-sub.json', 'utf8'))
export const planFactsInput = eveningFacts(offeredBoxes([{ key: rig.name, short, description, rig }]))

const hall = hallOf((demoHallStates.find(({ key }) => key === 'packed') ?? demoHallStates[0])?.design as never)

const sourcesOf = ({ cabinets }: Plan): PlacedSource[] =>
  cabinets.flatMap(({ box, xM, zM, baseM, yawDeg, levelDb, delayMs, inverted }) => {
    const own = rig.cabinets.find(({ name }) => box === `top-over-sub/${name}`)
    if (!own) throw new Error(`no box ${box}`)
    const frontCentre = { xM: 0, yM: baseM + own.heightM / 2, zM: 0 }
    const alone = { name: 'alone', cabinets: [{ ...own, frontCentre }] }
    const origin = { position: { xM: 0, yM: 0, zM: 0 }, yawRad: 0 }
    return rigSources(alone, air, solvedModel, origin, { xM: 0, yM: 1.6, zM: 4 }).map((source) => ({
      ...source,
      position: { xM, yM: source.position.yM, zM },
      yawRad: (yawDeg * Math.PI) / 180,
      gain: 10 ** (levelDb / 20),
      delayS: delayMs / 1000,
      polarity: inverted ? (-1 as const) : (1 as const),
    }))
  })

const sumDb = (levels: number[]) => 10 * Math.log10(levels.reduce((sum, level) => sum + 10 ** (level / 10), 0))
const isBass = ({ nominalHz }: Band) => nominalHz >= 40 && nominalHz <= 160

type Id = 'p1' | 'p2' | 'p3'
/** Bass at a place when pink noise has 95 dB(A) on the floor, dB. */
const bassOf = (plan: Plan) => {
  const levels = once(() => hallLevels(sourcesOf(plan), hall, air))
  const at = (id: Id, bands: Band[]) => {
    const place = plan.places.find((each) => each.id === id)
    if (!place) throw new Error(`no place ${id}`)
    const point = { xM: place.xM, yM: place.earM, zM: place.zM }
    const [low, high] = [bands.filter(({ upperHz }) => upperHz < 400), bands.filter(({ upperHz }) => upperHz >= 400)]
    return [...levels().bandLevelsDb(point, low, 24), ...levels().bandLevelsDb(point, high, 8)]
  }
  const floorDbA = once(() => sumDb(at('p1', heardBands).map((level, i) => level + aDb(heardBands[i]?.centreHz ?? 0))))
  const kept = new Map<Id, number>()
  return (id: Id): number => {
    const bassDb = kept.get(id) ?? sumDb(at(id, heardBands.filter(isBass))) + 95 - floorDbA()
    kept.set(id, bassDb)
    return bassDb
  }
}

const plans = eveningPlans()
const steps = Object.fromEntries(eveningSteps.map((step) => [step, bassOf(plans[step])])) as Record<
  EveningStep,
  (id: Id) => number
>
const usual = steps.usual
const last = steps.level
const within = 0.05
const because =
  'both add the same images; lines lie alike in the bass, and between 300 and 400 Hz this way takes more of them, which moves the level in dB(A) by some hundredths'
const less = (before: (id: Id) => number, after: (id: Id) => number, id: Id): Route =>
  route(() => before(id) - after(id), within, because)

/** A told step against the one before it. */
const step = (name: EveningStep): Route => {
  const before = steps[eveningSteps[eveningSteps.indexOf(name) - 1] as EveningStep]
  return less(before, steps[name], 'p2')
}
const chosen = setUpPlans()
const [down, pair, table] = [bassOf(chosen.down), bassOf(chosen.pair), bassOf(chosen.table)]

export const planRoutes: Routes = {
  'table-subs': step('subs'),
  'table-steer': step('steer'),
  'guess-down-table': less(usual, down, 'p2'),
  'guess-down-floor': less(usual, down, 'p1'),
  'guess-pair-table': less(usual, pair, 'p2'),
  'guess-pair-floor': less(usual, pair, 'p1'),
  'guess-table-table': less(usual, table, 'p2'),
  'table-over': route(() => usual('p2') - usual('p1'), within, because),
  'table-all': less(usual, last, 'p2'),
  'floor-all': less(usual, last, 'p1'),
  'band-all': less(usual, last, 'p3'),
  'cottage-all': readOut('planNeighbour, before and after', 'plan-neighbour-element'),
  'moved-table': plain(3.3),
  up: plain(1),
  down: plain(6),
}
