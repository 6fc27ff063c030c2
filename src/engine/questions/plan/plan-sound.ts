import { requireInHall } from '../../../acoustics/field/hall.ts'
import { driveOf } from '../../../acoustics/field/pressure-from.ts'
import {
  earlySoundAt,
  hallField,
  levelDb,
  type PlacedSource,
  type Point,
  powerCurve,
} from '../../../acoustics/index.ts'
import { makeRoom } from '../../../acoustics/make-room.ts'
import { solvedRevision } from '../../scene/solved-gear.ts'
import { groundArrivals } from './plan-arrivals.ts'
import { cabinetSources, driveIn } from './plan-boxes.ts'
import type { PlanLines, PlanScene } from './plan-scene.ts'
import type { ListenedPlace, PlanQuestion, StandingCabinet } from './plan-terms.ts'

// What every cabinet of a plan sends to every place, kept by cabinet and place: what is fed to a box is then only a sum, and a box
// or a place that is moved is all that is worked out anew.

/** What one cabinet under no drive sends to one place, by line: all of it below the join; above it what adds in step and what by energy. */
export type CabinetSound = {
  re: Float64Array
  im: Float64Array
  earlyRe: Float64Array
  earlyIm: Float64Array
  energy: Float64Array
}

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
        const sum = groundArrivals(source, frequencyHz, point, factor)
        const sound = made[index] as CabinetSound
        sound.re[line] = (sound.re[line] as number) + sum.re
        sound.im[line] = (sound.im[line] as number) + sum.im
      }
    }
  }
  return made
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
