import { driveOf } from '../../../acoustics/field/pressure-from.ts'
import type { PlacedSource } from '../../../acoustics/index.ts'
import { firstArrivals } from './plan-arrivals.ts'
import { cabinetSources, driveIn } from './plan-boxes.ts'
import type { PlanScene } from './plan-scene.ts'
import type { DipCause, ListenedPlace, PlanDip, PlanQuestion } from './plan-terms.ts'

/** Where dips are looked for, Hz: below nothing plays, above they are too narrow to be heard one by one. */
const dipsHz = { from: 38, to: 320 }

/** A dip counts from here on, dB; and this much a single arrival has to explain of it to be its cause. */
const leastDepthDb = 6
const leastExplainedDb = 3

/** Where next to nothing plays a dip is not heard: this much of the loudest octave, 15 dB down. */
const faintest = 10 ** -1.5

/** Half widths of what is looked at and what it is held against, octaves. */
const narrow = 1 / 12
const wide = 1 / 2

/** Dips nearer to each other than this are one, octaves. */
const apart = 1 / 3

/** The two deepest dips at a place, the lower one first. */
export function planDips(
  question: PlanQuestion,
  scene: PlanScene,
  place: ListenedPlace,
  squares: Float64Array,
): PlanDip[] {
  const { hz } = scene.lines
  const octaves = hz.map((frequencyHz) => Math.log2(frequencyHz))
  /** Sums of the squares before each line. */
  const before = new Float64Array(hz.length + 1)
  for (const [line, square] of squares.entries()) before[line + 1] = (before[line] as number) + square
  const mean = (aboutHz: number, halfOctaves: number): number => {
    const about = Math.log2(aboutHz)
    const from = firstAtLeast(octaves, about - halfOctaves)
    const to = firstAtLeast(octaves, about + halfOctaves + 1e-12)
    return ((before[to] as number) - (before[from] as number)) / (to - from)
  }
  const within = Array.from(hz).filter((frequencyHz) => frequencyHz >= dipsHz.from && frequencyHz <= dipsHz.to)
  const narrowly = within.map((frequencyHz) => mean(frequencyHz, narrow))
  const widely = within.map((frequencyHz) => mean(frequencyHz, wide))
  const loudest = Math.max(...widely)
  const found: { frequencyHz: number; depthDb: number }[] = []
  for (const [i, frequencyHz] of within.entries()) {
    const own = narrowly[i] as number
    // At the ends of what is looked at nobody knows whether it goes on falling.
    if (!(own <= (narrowly[i - 1] ?? 0) && own < (narrowly[i + 1] ?? 0))) continue
    const about = widely[i] as number
    const depthDb = 10 * Math.log10(about / own)
    if (depthDb >= leastDepthDb && about >= loudest * faintest) found.push({ frequencyHz, depthDb })
  }
  const deepest = found.sort((a, b) => b.depthDb - a.depthDb)
  return deepest
    .filter((dip, i) => deepest.slice(0, i).every((deeper) => octavesApart(dip, deeper) > apart))
    .slice(0, 2)
    .sort((a, b) => a.frequencyHz - b.frequencyHz)
    .map((dip) => ({ ...dip, cause: causeOf(question, scene, place, dip.frequencyHz) }))
}

/** Index of the first of rising numbers that is at least a value. */
function firstAtLeast(rising: Float64Array, value: number): number {
  let [low, high] = [0, rising.length]
  while (low < high) {
    const middle = (low + high) >> 1
    if ((rising[middle] as number) < value) low = middle + 1
    else high = middle
  }
  return low
}

const octavesApart = (a: { frequencyHz: number }, b: { frequencyHz: number }): number =>
  Math.abs(Math.log2(a.frequencyHz / b.frequencyHz))

type Sum = { re: number; im: number }

/** Without which of the first arrivals the level there would rise the most; none if by less than leastExplainedDb. */
export function causeOf(question: PlanQuestion, scene: PlanScene, place: ListenedPlace, frequencyHz: number): DipCause {
  const point = { xM: place.xM, yM: place.earM, zM: place.zM }
  const whole: Sum = { re: 0, im: 0 }
  const parts = new Map<string, { cause: DipCause; sum: Sum }>()
  const add = (cause: DipCause, { re, im }: Sum) => {
    const name = JSON.stringify(cause)
    const part = parts.get(name) ?? { cause, sum: { re: 0, im: 0 } }
    part.sum.re += re
    part.sum.im += im
    parts.set(name, part)
  }
  for (const cabinet of question.cabinets) {
    const drive = driveOf(driveIn(cabinet) as PlacedSource, frequencyHz)
    const driven = ({ re, im }: Sum): Sum => ({ re: re * drive.re - im * drive.im, im: re * drive.im + im * drive.re })
    for (const source of cabinetSources(question, cabinet)) {
      const { direct, by } = firstArrivals(scene, source, frequencyHz, point)
      const arrivals = [driven(direct)]
      for (const [surface, sum] of Object.entries(by)) {
        const arrival = driven(sum)
        arrivals.push(arrival)
        add({ kind: 'surface', surface } as DipCause, arrival)
      }
      for (const arrival of arrivals) {
        add({ kind: 'box', id: cabinet.id }, arrival)
        whole.re += arrival.re
        whole.im += arrival.im
      }
    }
  }
  let best: { cause: DipCause; risesDb: number } = { cause: { kind: 'several' }, risesDb: leastExplainedDb }
  const now = whole.re ** 2 + whole.im ** 2
  for (const { cause, sum } of parts.values()) {
    const without = (whole.re - sum.re) ** 2 + (whole.im - sum.im) ** 2
    const risesDb = 10 * Math.log10(without / now)
    if (without > 0 && risesDb > best.risesDb) best = { cause, risesDb }
  }
  return best.cause
}
