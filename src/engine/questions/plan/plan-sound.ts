import { bandLinesHz } from '../../../acoustics/field/band-levels.ts'
import { requireInHall } from '../../../acoustics/field/hall.ts'
import { axesOf } from '../../../acoustics/field/hall-axes.ts'
import { hallFieldCeilingHz } from '../../../acoustics/field/hall-field.ts'
import { driveOf } from '../../../acoustics/field/pressure-from.ts'
import { joiningFrequencyHz } from '../../../acoustics/field/reverberant-field.ts'
import { cabinetAround } from '../../../acoustics/field/rig.ts'
import {
  type Air,
  amplitudeRatio,
  earlySoundAt,
  type Hall,
  hallField,
  lateMeanSquarePerW,
  levelDb,
  octaveTable,
  type PlacedSource,
  type Point,
  powerCurve,
  type Radiation,
  rigSources,
  statisticalShare,
} from '../../../acoustics/index.ts'
import { makeRoom } from '../../../acoustics/make-room.ts'
import { airOf } from '../../scene/air.ts'
import { finishOf } from '../../scene/finishes.ts'
import { voicedAt } from '../../scene/free-field.ts'
import { firstLateBandHz } from '../../scene/hall-rig.ts'
import { hallOf } from '../../scene/hall-scene.ts'
import { solvedModel, solvedRevision } from '../../scene/solved-gear.ts'
import { heardBands } from '../../scene/third-octaves.ts'
import type { ListenedPlace, PlanBoxModel, PlanQuestion, PlanSurroundings, StandingCabinet } from './plan-terms.ts'

// What every cabinet of a plan sends to every place, kept by cabinet and place: what is fed to a box is then only a sum, and a box
// or a place that is moved is all that is worked out anew.

/** Lines in a third octave: for resonances, above them, and outdoors, where the ground's dips are narrow. */
const linesPerBand = { resonances: 24, above: 8, outdoors: 24 }

/** The lines of a plan, band after band. */
export type PlanLines = { hz: Float64Array; fromOf: number[] }

/** What one cabinet under no drive sends to one place, by line: all of it below the join; above it what adds in step and what by energy. */
export type CabinetSound = {
  re: Float64Array
  im: Float64Array
  earlyRe: Float64Array
  earlyIm: Float64Array
  energy: Float64Array
}

/** The surroundings of a plan, ready to be asked. */
export type PlanScene = {
  key: string
  air: Air
  lines: PlanLines
  hall?: { hall: Hall; joiningHz: number; statistical: Float64Array; latePerW: Float64Array }
  /** Absorption of the ground outdoors. */
  ground?: (frequencyHz: number) => number
}

const scenes = new Map<string, PlanScene>()

/** Throws RangeError for a hall out of range or an unknown finish. */
export function planScene({ surroundings, air: state }: Pick<PlanQuestion, 'surroundings' | 'air'>): PlanScene {
  const air = airOf(state)
  const key = JSON.stringify([surroundings, air])
  let scene = scenes.get(key)
  if (!scene) {
    scene = { key, air, ...parts(surroundings, air) }
    makeRoom(scenes, 8)
    scenes.set(key, scene)
  }
  return scene
}

function parts(surroundings: PlanSurroundings, air: Air): Omit<PlanScene, 'key' | 'air'> {
  if (surroundings.kind === 'outdoors') {
    const grass = () => finishOf('grass')
    const ground = surroundings.ground === 'hard' ? () => 0 : octaveTable(grass().frequenciesHz, grass().absorption)
    return { lines: linesOf(() => linesPerBand.outdoors), ground }
  }
  const hall = hallOf(surroundings.design)
  const joiningHz = Math.min(joiningFrequencyHz(hall, air), hallFieldCeilingHz / Math.SQRT2)
  const lateFromHz = firstLateBandHz(joiningHz)
  const lines = linesOf((lowerHz) => (lowerHz < lateFromHz ? linesPerBand.resonances : linesPerBand.above))
  const statistical = lines.hz.map((frequencyHz) => statisticalShare(frequencyHz, joiningHz))
  const latePerW = lines.hz.map((frequencyHz, line) =>
    statistical[line] === 0 ? 0 : lateMeanSquarePerW(hall, frequencyHz, air),
  )
  return { lines, hall: { hall, joiningHz, statistical, latePerW } }
}

function linesOf(count: (lowerHz: number) => number): PlanLines {
  const fromOf: number[] = []
  const hz: number[] = []
  for (const band of heardBands) {
    fromOf.push(hz.length)
    hz.push(...bandLinesHz(band, count(band.lowerHz)))
  }
  return { hz: Float64Array.from(hz), fromOf }
}

/** The ways of a box at the origin of the plan, set flat as a crew does: alone, 4 m in front of it. Radiations are kept by frequency. */
const boxes = new Map<string, PlacedSource[]>()

function boxSources(box: PlanBoxModel, baseM: number, air: Air): PlacedSource[] {
  const key = `${solvedRevision()} ${JSON.stringify([box, baseM, air])}`
  let sources = boxes.get(key)
  if (!sources) {
    const frontCentre = { xM: 0, yM: baseM + box.heightM / 2, zM: 0 }
    const origin = { position: { xM: 0, yM: 0, zM: 0 }, yawRad: 0 }
    sources = rigSources(
      { name: box.name, cabinets: [{ ...box, frontCentre }] },
      air,
      solvedModel,
      origin,
      voicedAt,
    ).map((source) => ({ ...source, radiation: keptRadiation(source.radiation) }))
    makeRoom(boxes, 40)
    boxes.set(key, sources)
  }
  return sources
}

function keptRadiation(of: (frequencyHz: number) => Radiation): (frequencyHz: number) => Radiation {
  const kept = new Map<number, Radiation>()
  return (frequencyHz) => {
    let radiation = kept.get(frequencyHz)
    if (!radiation) {
      radiation = of(frequencyHz)
      makeRoom(kept, 2048)
      kept.set(frequencyHz, radiation)
    }
    return radiation
  }
}

/** The ways of a cabinet where it stands, under no drive. Throws RangeError for a box that is none. */
export function cabinetSources(
  { boxes: models, air }: Pick<PlanQuestion, 'boxes' | 'air'>,
  cabinet: StandingCabinet,
): PlacedSource[] {
  const model = models[cabinet.box]
  if (!model) throw new RangeError(`box is ${cabinet.box}; allowed is ${Object.keys(models).join(', ')}`)
  return boxSources(model, cabinet.baseM, airOf(air)).map((source) => ({
    ...source,
    position: { xM: cabinet.xM, yM: source.position.yM, zM: cabinet.zM },
    yawRad: cabinet.yawRad,
  }))
}

/** What a cabinet is fed with. */
export const driveIn = (cabinet: StandingCabinet) => ({
  gain: amplitudeRatio(cabinet.levelDb),
  delayS: cabinet.delayS,
  polarity: cabinet.polarity,
})

const sounds = new Map<string, CabinetSound>()
const mostSounds = 800

const standingKey = ({ box, xM, zM, baseM, yawRad }: StandingCabinet) => [box, xM, zM, baseM, yawRad]

/** What a cabinet sends to places, in their order. Throws RangeError for a place outside the hall. */
export function cabinetSounds(
  question: PlanQuestion,
  scene: PlanScene,
  cabinet: StandingCabinet,
  places: readonly ListenedPlace[],
): CabinetSound[] {
  const who = JSON.stringify([scene.key, solvedRevision(), question.boxes[cabinet.box], ...standingKey(cabinet)])
  const keyOf = ({ xM, zM, earM }: ListenedPlace) => `${who} ${xM} ${earM} ${zM}`
  const missing = places.filter((place) => !sounds.has(keyOf(place)))
  if (missing.length > 0) {
    const sources = cabinetSources(question, cabinet)
    const points = missing.map(({ xM, zM, earM }) => ({ xM, yM: earM, zM }))
    const made = scene.hall ? inHall(scene, sources, points) : inTheOpen(scene, sources, points)
    makeRoom(sounds, mostSounds)
    for (const [index, place] of missing.entries()) sounds.set(keyOf(place), made[index] as CabinetSound)
  }
  return places.map((place) => sounds.get(keyOf(place)) as CabinetSound)
}

const silence = (lines: number): CabinetSound => ({
  re: new Float64Array(lines),
  im: new Float64Array(lines),
  earlyRe: new Float64Array(lines),
  earlyIm: new Float64Array(lines),
  energy: new Float64Array(lines),
})

function inHall({ lines, air, hall: room }: PlanScene, sources: PlacedSource[], points: Point[]): CabinetSound[] {
  const { hall, statistical } = room as NonNullable<PlanScene['hall']>
  for (const point of points) requireInHall('place', point, hall)
  const made = points.map(() => silence(lines.hz.length))
  for (const [line, frequencyHz] of lines.hz.entries()) {
    const above = statistical[line] as number
    if (above < 1) {
      const field = hallField(sources, hall, frequencyHz, air)
      for (const [index, point] of points.entries()) {
        const { re, im } = field(point)
        const sound = made[index] as CabinetSound
        sound.re[line] = re
        sound.im[line] = im
      }
    }
    if (above > 0) {
      const soundOf = earlySoundAt(hall, frequencyHz, air, 'band')
      for (const source of sources) {
        const radiation = source.radiation(frequencyHz)
        for (const [index, point] of points.entries()) {
          const early = soundOf(source, radiation, point)
          const sound = made[index] as CabinetSound
          sound.earlyRe[line] = (sound.earlyRe[line] as number) + early.re
          sound.earlyIm[line] = (sound.earlyIm[line] as number) + early.im
          sound.energy[line] = (sound.energy[line] as number) + early.energy
        }
      }
    }
  }
  return made
}

function inTheOpen({ lines, ground }: PlanScene, sources: PlacedSource[], points: Point[]): CabinetSound[] {
  const made = points.map(() => silence(lines.hz.length))
  for (const [line, frequencyHz] of lines.hz.entries()) {
    const factor = Math.sqrt(1 - (ground as NonNullable<PlanScene['ground']>)(frequencyHz))
    for (const source of sources) {
      for (const [index, point] of points.entries()) {
        const sum = arrivals(source, frequencyHz, point, factor)
        const sound = made[index] as CabinetSound
        sound.re[line] = (sound.re[line] as number) + sum.re
        sound.im[line] = (sound.im[line] as number) + sum.im
      }
    }
  }
  return made
}

/** The direct sound and the ground's, which is what goes to the listener's mirror image. */
function arrivals(source: PlacedSource, frequencyHz: number, point: Point, factor: number) {
  const radiation = source.radiation(frequencyHz)
  const direct = pressureOf(source, radiation, point)
  if (factor === 0) return direct
  const mirrored = pressureOf(source, radiation, { ...point, yM: -point.yM })
  return { re: direct.re + factor * mirrored.re, im: direct.im + factor * mirrored.im }
}

function pressureOf({ position, yawRad }: PlacedSource, radiation: Radiation, point: Point) {
  const [xM, zM] = [point.xM - position.xM, point.zM - position.zM]
  const [cos, sin] = [Math.cos(yawRad), Math.sin(yawRad)]
  return radiation.pressureAt({ xM: xM * cos - zM * sin, yM: point.yM - position.yM, zM: xM * sin + zM * cos })
}

/** Reflections by surface, each wall's with what the floor makes of it, and the direct sound, of one source at one frequency: what dips are explained by. */
export function firstArrivals(
  { hall: room, ground }: PlanScene,
  source: PlacedSource,
  frequencyHz: number,
  point: Point,
): { direct: { re: number; im: number }; by: Record<string, { re: number; im: number }> } {
  const radiation = source.radiation(frequencyHz)
  const by: Record<string, { re: number; im: number }> = {}
  const add = (surface: string, factor: number, mirrored: Point, floor = 0) => {
    const { re, im } = pressureOf(source, radiation, mirrored)
    const below = floor === 0 ? { re: 0, im: 0 } : pressureOf(source, radiation, { ...mirrored, yM: -mirrored.yM })
    by[surface] = { re: factor * (re + floor * below.re), im: factor * (im + floor * below.im) }
  }
  if (room) {
    const { hall } = room
    const [x, y, z] = axesOf(hall, frequencyHz)
    add('wallLeft', x.low, { ...point, xM: -hall.widthM - point.xM }, y.low)
    add('wallRight', x.high, { ...point, xM: hall.widthM - point.xM }, y.low)
    add('floor', y.low, { ...point, yM: -point.yM })
    add('ceiling', y.high, { ...point, yM: 2 * hall.heightM - point.yM })
    add('wallBehind', z.low, { ...point, zM: -point.zM }, y.low)
    add('wallOpposite', z.high, { ...point, zM: 2 * hall.lengthM - point.zM }, y.low)
  } else if (ground) add('floor', Math.sqrt(1 - ground(frequencyHz)), { ...point, yM: -point.yM })
  return { direct: pressureOf(source, radiation, point), by }
}

/** The cabinet whose box a place lies in, on its surface not counted; undefined for a place in the open. */
export function cabinetAt(
  { boxes: models, cabinets }: Pick<PlanQuestion, 'boxes' | 'cabinets'>,
  { xM, zM, earM }: ListenedPlace,
): StandingCabinet | undefined {
  return cabinets.find(({ box, xM: x, zM: z, baseM, yawRad }) => {
    const model = models[box]
    if (!model) return false
    const frontCentre = { xM: x, yM: baseM + model.heightM / 2, zM: z }
    return (
      cabinetAround({ name: '', cabinets: [{ ...model, frontCentre, yawRad }] }, { xM, yM: earM, zM }) !== undefined
    )
  })
}

const powers = new Map<string, (frequencyHz: number) => number>()

/** Power that the whole set radiates by line, W. */
function powerOf(question: PlanQuestion, scene: PlanScene): Float64Array {
  const { cabinets, boxes: models } = question
  const key = JSON.stringify([scene.key, solvedRevision(), models, cabinets.map(({ id: _, ...rest }) => rest)])
  let curve = powers.get(key)
  if (!curve) {
    const sources = cabinets.flatMap((cabinet) =>
      cabinetSources(question, cabinet).map((source) => ({ ...source, ...driveIn(cabinet) })),
    )
    curve = powerCurve(sources, scene.air)
    makeRoom(powers, 16)
    powers.set(key, curve)
  }
  const { statistical } = scene.hall as NonNullable<PlanScene['hall']>
  return scene.lines.hz.map((frequencyHz, line) =>
    statistical[line] === 0 ? 0 : (curve as (f: number) => number)(frequencyHz),
  )
}

/**
 * Mean square by line at each of some places, of all cabinets under their drives: as hallLevels in a hall, as walledField outdoors.
 *
 * @throws RangeError for a place outside the hall, a cabinet that reaches through a wall, or a box that is none
 */
export function planMeanSquares(
  question: PlanQuestion,
  scene: PlanScene,
  places: readonly ListenedPlace[],
): Float64Array[] {
  const { hz } = scene.lines
  const totals = places.map(() => silence(hz.length))
  for (const cabinet of question.cabinets) {
    const { gain, polarity, delayS } = driveIn(cabinet)
    const made = cabinetSounds(question, scene, cabinet, places)
    for (const [line, frequencyHz] of hz.entries()) {
      const drive = driveOf({ gain, polarity, delayS } as PlacedSource, frequencyHz)
      for (const [index, total] of totals.entries()) {
        const own = made[index] as CabinetSound
        addDriven(total.re, total.im, own.re, own.im, drive, line)
        addDriven(total.earlyRe, total.earlyIm, own.earlyRe, own.earlyIm, drive, line)
        total.energy[line] = (total.energy[line] as number) + gain * gain * (own.energy[line] as number)
      }
    }
  }
  const power = scene.hall && question.cabinets.length > 0 ? powerOf(question, scene) : undefined
  return totals.map(({ re, im, earlyRe, earlyIm, energy }) =>
    hz.map((_, line) => {
      const whole = (re[line] as number) ** 2 + (im[line] as number) ** 2
      if (!scene.hall) return whole
      const above = scene.hall.statistical[line] as number
      const early = (earlyRe[line] as number) ** 2 + (earlyIm[line] as number) ** 2 + (energy[line] as number)
      const late = (power?.[line] ?? 0) * (scene.hall.latePerW[line] as number)
      return (1 - above) * whole + above * (early + late)
    }),
  )
}

function addDriven(
  sumRe: Float64Array,
  sumIm: Float64Array,
  re: Float64Array,
  im: Float64Array,
  drive: { re: number; im: number },
  line: number,
): void {
  const [a, b] = [re[line] as number, im[line] as number]
  sumRe[line] = (sumRe[line] as number) + a * drive.re - b * drive.im
  sumIm[line] = (sumIm[line] as number) + a * drive.im + b * drive.re
}

/** Levels of heardBands from the mean squares of the lines, dB. */
export function bandLevelsOf({ fromOf, hz }: PlanLines, squares: Float64Array): Float64Array {
  return Float64Array.from(fromOf, (from, band) => {
    const to = fromOf[band + 1] ?? hz.length
    let sum = 0
    for (let line = from; line < to; line++) sum += squares[line] as number
    return levelDb(sum / (to - from))
  })
}
