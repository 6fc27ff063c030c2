import { crowdPath, leftByCrowd } from '../../../acoustics/field/crowd.ts'
import { requireInHall } from '../../../acoustics/field/hall.ts'
import { driveOf } from '../../../acoustics/field/pressure-from.ts'
import { silentRadiation } from '../../../acoustics/field/rig-sources.ts'
import {
  type Complex,
  hallField,
  levelDb,
  type PlacedSource,
  type Point,
  powerCurve,
} from '../../../acoustics/index.ts'
import { makeRoom } from '../../../acoustics/make-room.ts'
import { earHeightM } from '../../scene/scene-terms.ts'
import { solvedRevision } from '../../scene/solved-gear.ts'
import { addDriven, type CabinetSound, silence } from './cabinet-sound.ts'
import { groundArrivals } from './plan-arrivals.ts'
import { cabinetSources, driveIn } from './plan-boxes.ts'
import { takeCrowd } from './plan-crowd.ts'
import type { PlanLines, PlanScene } from './plan-scene.ts'
import type { ListenedPlace, PlanQuestion, StandingCabinet } from './plan-terms.ts'

// What every cabinet of a plan sends to every place, kept by cabinet and place: what is fed to a box is then only a sum, and a box
// or a place that is moved is all that is worked out anew.

/** A place as the acoustics module has it. */
export const pointOf = ({ xM, zM, earM }: Pick<ListenedPlace, 'xM' | 'zM' | 'earM'>): Point => ({ xM, yM: earM, zM })

/** Kept sounds: with all lines of a plan they take some 14 kB each, with the few of a map or a first answer less than 2. */
const sounds = { whole: new Map<string, CabinetSound>(), few: new Map<string, CabinetSound>() }
const mostSounds = { whole: 800, few: 10_000 }
const fewLines = 150

const standingKey = ({ box, xM, zM, baseM, yawRad }: StandingCabinet) => [box, xM, zM, baseM, yawRad]

/** Lines at which a source of a cabinet, by its place among them, is drowned by others. */
export type Drowned = (source: number) => ReadonlySet<number>

/** What a cabinet sends to places, in their order. Throws RangeError for a place outside the hall. */
export function cabinetSounds(
  question: PlanQuestion,
  scene: PlanScene,
  cabinet: StandingCabinet,
  places: readonly ListenedPlace[],
  drowned?: Drowned,
): CabinetSound[] {
  const all = cabinetSources(question, cabinet)
  const left = drowned && all.map((_, source) => drowned(source))
  const sources = left ? all.map((source, index) => withoutLines(source, left[index] as ReadonlySet<number>)) : all
  const box = question.boxes[cabinet.box]
  const which = [scene.key, solvedRevision(), box, ...standingKey(cabinet), left?.map(({ size }) => size)]
  const who = JSON.stringify(which)
  const crowd = question.crowd === true
  const size = scene.lines.hz.length > fewLines ? 'whole' : 'few'
  const keyOf = ({ xM, zM, earM }: ListenedPlace) => `${who} ${crowd} ${xM} ${earM} ${zM}`
  const missing = places.filter((place) => !sounds[size].has(keyOf(place)))
  if (missing.length > 0) {
    const soundAt = scene.hall
      ? soundsInHall(scene, sources, fieldsOf(who, scene, sources, question.cabinets.length))
      : soundsInTheOpen(scene, sources, crowd)
    for (const place of missing) {
      const sound = soundAt(pointOf(place))
      if (crowd && scene.hall) for (const source of sources) takeCrowd(sound, scene, source, pointOf(place))
      makeRoom(sounds[size], mostSounds[size])
      sounds[size].set(keyOf(place), sound)
    }
  }
  const kept = fields[size].get(who)
  if (kept) usedLast(fields[size], who, kept)
  return places.map((place) => {
    const key = keyOf(place)
    const sound = sounds[size].get(key) as CabinetSound
    usedLast(sounds[size], key, sound)
    return sound
  })
}

/** A source that does not play at some lines. */
const withoutLines = (source: PlacedSource, lines: ReadonlySet<number>): PlacedSource => ({
  ...source,
  radiation: (frequencyHz) => (lines.has(frequencyHz) ? silentRadiation(frequencyHz) : source.radiation(frequencyHz)),
})

/** What is used last is dropped last. */
function usedLast<T>(map: Map<string, T>, key: string, value: T): void {
  map.delete(key)
  map.set(key, value)
}

type Fields = ((listener: Point) => Complex)[]

/** The sums of images and resonances of sources by line, as far up as any is wanted; a place costs little once they are there. */
const fieldsByLine = ({ lines, air, hall: room }: PlanScene, sources: PlacedSource[]): Fields => {
  const { hall, statistical } = room as NonNullable<PlanScene['hall']>
  const { length } = statistical.filter((share) => share < 1)
  return Array.from(lines.hz.subarray(0, length), (frequencyHz) => hallField(sources, hall, frequencyHz, air))
}

/** Those of single cabinets under no drive. */
const fields = { whole: new Map<string, Fields>(), few: new Map<string, Fields>() }
/** For so many scenes at a time those of all boxes are kept, and so many more; with all lines they take some megabytes each. */
const scenesOf = { whole: 1, few: 3 }
const spareFields = 2

function fieldsOf(who: string, scene: PlanScene, sources: PlacedSource[], boxes: number): Fields {
  const size = scene.lines.hz.length > fewLines ? 'whole' : 'few'
  const kept = fields[size]
  let made = kept.get(who)
  if (!made) {
    made = fieldsByLine(scene, sources)
    makeRoom(kept, scenesOf[size] * boxes + spareFields)
    kept.set(who, made)
  }
  return made
}

/** What sources send to places of a hall: by the sums of images, and from the join on by the early sound. */
function soundsInHall(scene: PlanScene, sources: PlacedSource[], byLine: Fields) {
  const { hall, earlyOf } = scene.hall as NonNullable<PlanScene['hall']>
  const early = sources.map(earlyOf)
  return (point: Point): CabinetSound => {
    requireInHall('place', point, hall)
    const sound = silence(scene.lines.hz.length)
    for (const [line, field] of byLine.entries()) {
      const { re, im } = field(point)
      sound.re[line] = re
      sound.im[line] = im
    }
    for (const earlyAt of early) {
      const { re, im, energy } = earlyAt(point)
      addTo(sound.earlyRe, re)
      addTo(sound.earlyIm, im)
      addTo(sound.energy, energy)
    }
    return sound
  }
}

function addTo(sum: Float64Array, more: Float64Array): void {
  for (const [line, value] of more.entries()) sum[line] = (sum[line] as number) + value
}

/** What sources send to places outdoors: the direct sound and the ground's, and what a crowd leaves of them. */
function soundsInTheOpen({ lines, ground }: PlanScene, sources: PlacedSource[], crowd: boolean) {
  const thrownBack = ground as NonNullable<PlanScene['ground']>
  return (point: Point): CabinetSound => {
    const sound = silence(lines.hz.length)
    for (const source of sources) {
      const path = crowd && crowdPath(source, point, earHeightM)
      for (const [line, frequencyHz] of lines.hz.entries()) {
        const left = path ? leftByCrowd(path, frequencyHz) : undefined
        const { re, im } = groundArrivals(source, frequencyHz, point, thrownBack, left)
        addDriven(sound.re, sound.im, re, im, driveOf(source, frequencyHz), line)
      }
    }
    return sound
  }
}

const powers = new Map<string, (frequencyHz: number) => number>()

/** A plan's cabinets as sources under their drives. */
export const drivenSources = (question: Pick<PlanQuestion, 'boxes' | 'air' | 'cabinets'>): PlacedSource[] =>
  question.cabinets.flatMap((cabinet) =>
    cabinetSources(question, cabinet).map((source) => ({ ...source, ...driveIn(cabinet) })),
  )

/** Power that the whole set radiates by line, W. */
function powerOf(question: PlanQuestion, scene: PlanScene): Float64Array {
  const { cabinets, boxes: models } = question
  const key = JSON.stringify([scene.air, solvedRevision(), models, cabinets.map(({ id: _, ...rest }) => rest)])
  let curve = powers.get(key)
  if (!curve) {
    curve = powerCurve(drivenSources(question), scene.air)
    makeRoom(powers, 16)
    powers.set(key, curve)
  }
  const { statistical } = scene.hall as NonNullable<PlanScene['hall']>
  return scene.lines.hz.map((frequencyHz, line) =>
    statistical[line] === 0 ? 0 : (curve as (f: number) => number)(frequencyHz),
  )
}

/** Mean square by line of all that sounds at a place: in a hall the sum of images, and above the join the early sound and what follows it. */
function meanSquaresOf(question: PlanQuestion, scene: PlanScene): (sound: CabinetSound) => Float64Array {
  const power = scene.hall && question.cabinets.length > 0 ? powerOf(question, scene) : undefined
  return ({ re, im, earlyRe, earlyIm, energy }) =>
    scene.lines.hz.map((_, line) => {
      const whole = (re[line] as number) ** 2 + (im[line] as number) ** 2
      if (!scene.hall) return whole
      const above = scene.hall.statistical[line] as number
      const early = (earlyRe[line] as number) ** 2 + (earlyIm[line] as number) ** 2 + (energy[line] as number)
      const late = (power?.[line] ?? 0) * (scene.hall.latePerW[line] as number)
      return (1 - above) * whole + above * (early + late)
    })
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
  drowned?: (cabinet: StandingCabinet) => Drowned,
): Float64Array[] {
  const { hz } = scene.lines
  const totals = places.map(() => silence(hz.length))
  for (const cabinet of question.cabinets) {
    const { gain, polarity, delayS } = driveIn(cabinet)
    const made = cabinetSounds(question, scene, cabinet, places, drowned?.(cabinet))
    for (const [line, frequencyHz] of hz.entries()) {
      const drive = driveOf({ gain, polarity, delayS } as PlacedSource, frequencyHz)
      for (const [index, total] of totals.entries()) {
        const own = made[index] as CabinetSound
        addDriven(total.re, total.im, own.re[line] as number, own.im[line] as number, drive, line)
        const [early, earlyIm] = [own.earlyRe[line] as number, own.earlyIm[line] as number]
        addDriven(total.earlyRe, total.earlyIm, early, earlyIm, drive, line)
        total.energy[line] = (total.energy[line] as number) + gain * gain * (own.energy[line] as number)
      }
    }
  }
  return totals.map(meanSquaresOf(question, scene))
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
