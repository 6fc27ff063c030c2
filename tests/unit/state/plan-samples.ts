import { readFileSync } from 'node:fs'
import { seededRandom } from '../../../src/acoustics/signals/seeded-random.ts'
import * as edits from '../../../src/state/plan-edits.ts'
import { type Plan, type PlanKnown, planRange } from '../../../src/state/plan-schema.ts'

// Plans for the tests: a small sound one, and random changes of a fixed seed.

type Box = { name: string; widthM: number; heightM: number; depthM: number }
export const boxesOf = (rig: string): Record<string, Box> => {
  const { cabinets } = JSON.parse(readFileSync(`content/gear/${rig}.json`, 'utf8')) as { cabinets: Box[] }
  return Object.fromEntries(cabinets.map((box) => [`${rig}/${box.name}`, box]))
}

export const known: PlanKnown = {
  finishes: ['wood-on-studs', 'bare-brick'],
  partitions: ['timber-wall', 'steel-roof', 'solid-door'],
  boxes: { ...boxesOf('top-over-sub'), ...boxesOf('compact-two-way') },
}

const wood = 'wood-on-studs'
export const smallPlan: Plan = {
  version: 1,
  name: 'A hall',
  crew: '',
  note: '',
  ground: {
    kind: 'hall',
    lengthM: 18,
    widthM: 11,
    heightM: 4.6,
    surfaces: { wallLeft: wood, wallRight: wood, floor: wood, ceiling: wood, wallBehind: wood, wallOpposite: wood },
    people: 100,
  },
  stage: { xM: 0, zM: 1.2, widthM: 5, depthM: 2, heightM: 0.6 },
  cabinets: [
    {
      id: 'c1',
      box: 'top-over-sub/top',
      xM: -2.5,
      zM: 3,
      baseM: 1.62,
      yawDeg: 0,
      levelDb: 0,
      delayMs: 0,
      inverted: false,
      group: 'left',
    },
    {
      id: 'c2',
      box: 'top-over-sub/sub',
      xM: -2.5,
      zM: 3,
      baseM: 0,
      yawDeg: 0,
      levelDb: 0,
      delayMs: 0,
      inverted: false,
      group: 'left',
    },
  ],
  places: [
    { id: 'p1', name: 'Dance floor', xM: 0, zM: 8, earM: 1.6 },
    { id: 'p2', name: 'Tables', xM: -2.5, zM: 0.5, earM: 1.2 },
  ],
  mainPlace: 'p1',
  programmeDbA: 95,
  neighbour: {
    name: 'Cottage',
    side: 'wallBehind',
    distanceM: 40,
    wall: 'timber-wall',
    roof: 'steel-roof',
    door: 'solid-door',
    doorM2: 2,
  },
  ownBoxes: [],
}

/** So many changes of a plan, one after the other, none of them held against what is possible. */
export function randomEdits(seed: number, count: number): ((plan: Plan) => Plan)[] {
  const random = seededRandom(seed)
  const within = ({ min, max }: { min: number; max: number }) => min + random() * (max - min)
  const one = <T>(list: readonly T[]): T | undefined => list[Math.floor(random() * list.length)]
  const spot = () => ({ xM: within({ min: -5, max: 5 }), zM: within({ min: 1, max: 17 }) })
  return Array.from({ length: count }, () => {
    const [kind, to, value] = [Math.floor(random() * 10), spot(), random()]
    return (plan: Plan): Plan => {
      const cabinet = one(plan.cabinets)?.id ?? 'c1'
      const place = one(plan.places)?.id ?? 'p1'
      switch (kind) {
        case 0:
          return edits.moveCabinet(plan, cabinet, to)
        case 1:
          return edits.movePlace(plan, place, to)
        case 2:
          return edits.changeCabinet(plan, cabinet, { delayMs: within(planRange.delayMs), inverted: value > 0.5 })
        case 3:
          return edits.changeCabinet(plan, cabinet, {
            yawDeg: within(planRange.yawDeg),
            levelDb: within(planRange.levelDb),
          })
        case 4:
          return plan.cabinets.length < 20 ? edits.duplicateCabinet(plan, cabinet, 0.7) : plan
        case 5:
          return plan.cabinets.length > 1 ? edits.removeCabinet(plan, cabinet) : plan
        case 6:
          return plan.places.length < 10 ? edits.addPlace(plan, { name: `Place ${value}`, ...to, earM: 1.2 }) : plan
        case 7:
          return edits.removePlace(plan, place)
        case 8:
          return edits.setCrowd(plan, value > 0.3)
        default:
          return edits.changePlan(plan, { programmeDbA: within(planRange.programmeDbA), note: `at ${value}` })
      }
    }
  })
}
