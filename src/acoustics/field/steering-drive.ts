import { levelDb } from '../bands/decibels.ts'
import { requireInRange } from '../numeric-range.ts'

/** Complex pressure of one box under unit drive at the spots of a place: index = line × spots + spot. */
export type BoxResponse = { re: ArrayLike<number>; im: ArrayLike<number> }

/**
 * A search for the delay, polarity and level of some boxes (the others) against the rest (the first). Box b has steps[b] steps
 * of delay; a box of step 0 is one of the first.
 */
export type SteeringSearch = {
  /** Lines of equal energy, Hz. */
  frequenciesHz: readonly number[]
  steps: readonly number[]
  /** By box. */
  front: readonly BoxResponse[]
  behind: readonly BoxResponse[]
  spots: number
  /** By line: 1 / the mean square that the figures are told against. */
  weights: ArrayLike<number>
  /** Mean square of the yardstick in front, Σ over the lines with their weights. */
  stackedFront: number
  delaysS: readonly number[]
  levelsDb: readonly number[]
  /** Largest front loss with the loudest box no louder than one of the yardstick, dB: others that play louder count as lost. */
  mostFrontLossDb: number
}

export type SteeringDrive = {
  delayS: number
  inverted: boolean
  levelDb: number
  /** 10 lg of front over behind in the band, distance counted. */
  frontOverBehindDb: number
  /** Against the yardstick, with the loudest box as loud as each of the yardstick's: others above 0 dB turn the first down. */
  frontLossDb: number
}

/** How much better a later setting must be to replace an earlier one, dB. */
const betterByDb = 1e-9

/**
 * The delay, polarity and level with the most front over behind in a band, among those that lose no more in front than allowed.
 *
 * With the drive a e^{−jωsτ} of the others, a signed, the energy at a place is a sum over the band of
 *
 *   A + a² B(τ) + 2a C(τ)
 *
 *   A = Σ_{first} Re p_g p_h*,   B = Σ_{others} Re p_g p_h* e^{−jω(s_g − s_h)τ},   C = Σ_{first, others} Re p_g* p_h e^{−jω s_h τ}
 *
 * so that each delay is summed once, and all levels and polarities follow from three numbers.
 *
 * Every setting of the grid is tried, in the order delay (as given), polarity (normal first), level (as given); a later one
 * must be better by 1e-9 dB. So the result is the same every time, and ties go to the smaller delay.
 *
 * @returns the best drive and how many settings were tried; drive null if none keeps the front
 * @throws RangeError if lengths do not fit
 */
export function bestSteeringDrive(search: SteeringSearch): { drive: SteeringDrive | null; tried: number } {
  const { frequenciesHz, steps, spots, delaysS, levelsDb, mostFrontLossDb } = search
  requireInRange('spots', spots, { min: 1, integer: true })
  for (const side of ['front', 'behind'] as const) {
    requireInRange(`${side}.length`, search[side].length, { min: steps.length, max: steps.length })
  }
  const groups = [...new Set(steps)].sort((a, b) => a - b)
  const sums = { front: products(search, 'front', groups), behind: products(search, 'behind', groups) }
  let best: SteeringDrive | null = null
  let tried = 0
  for (const delayS of delaysS) {
    const [front, behind] = [
      atDelay(sums.front, groups, frequenciesHz, delayS),
      atDelay(sums.behind, groups, frequenciesHz, delayS),
    ]
    for (const inverted of [false, true]) {
      for (const level of levelsDb) {
        tried += 1
        const a = (inverted ? -1 : 1) * 10 ** (level / 20)
        const inFront = Math.max(0, front.a + a * a * front.b + 2 * a * front.c)
        const atBack = Math.max(0, behind.a + a * a * behind.b + 2 * a * behind.c)
        // The loudest box plays as loud as those of the yardstick.
        const frontLossDb = levelDb(search.stackedFront / Math.max(inFront, Number.MIN_VALUE)) + Math.max(0, level)
        if (frontLossDb > mostFrontLossDb) continue
        const frontOverBehindDb = levelDb(inFront / Math.max(atBack, 1e-20 * inFront))
        if (best && frontOverBehindDb <= best.frontOverBehindDb + betterByDb) continue
        best = { delayS, inverted, levelDb: level, frontOverBehindDb, frontLossDb }
      }
    }
  }
  return { drive: best, tried }
}

/** A rule that a line keeps: least rejection and largest front loss, dB; see steeringFigures for both. */
export type LineRule = {
  rejectionDb: number
  frontLossDb: number
  /** Front over behind by distance alone, dB. */
  distanceDb: number
  /** By line: mean square of the yardstick in front, with its weight. */
  stackedFront: ArrayLike<number>
}

export type WidestDrive = { delayS: number; inverted: boolean; levelDb: number; from: number; to: number }

/**
 * The drive whose run of neighbouring lines that all keep a rule is the longest; of two that are equally long the one that is
 * met first, in the order of bestSteeringDrive.
 *
 * @returns the drive, with the first and the last line of its run; null where no drive keeps the rule at any line
 * Source: the definition is ours.
 */
export function widestSteeringDrive(search: SteeringSearch, rule: LineRule): WidestDrive | null {
  const { frequenciesHz, steps, delaysS, levelsDb } = search
  const groups = [...new Set(steps)].sort((a, b) => a - b)
  const sums = { front: products(search, 'front', groups), behind: products(search, 'behind', groups) }
  const leastRatio = 10 ** ((rule.rejectionDb + rule.distanceDb) / 10)
  const drives = [false, true].flatMap((inverted) =>
    levelsDb.map((level) => ({
      inverted,
      levelDb: level,
      a: (inverted ? -1 : 1) * 10 ** (level / 20),
      mostLoss: 10 ** ((rule.frontLossDb - Math.max(0, level)) / 10),
    })),
  )
  const count = frequenciesHz.length
  const front = { a: new Float64Array(count), b: new Float64Array(count), c: new Float64Array(count) }
  const behind = { a: new Float64Array(count), b: new Float64Array(count), c: new Float64Array(count) }
  const square = (at: typeof front, line: number, a: number): number =>
    (at.a[line] as number) + a * a * (at.b[line] as number) + 2 * a * (at.c[line] as number)
  let widest: WidestDrive | null = null
  let longest = -1
  for (const delayS of delaysS) {
    for (const [line, frequencyHz] of frequenciesHz.entries()) {
      for (const [at, of] of [
        [front, sums.front],
        [behind, sums.behind],
      ] as const) {
        const { a, b, c } = lineAtDelay(of, groups, frequencyHz, line, delayS)
        at.a[line] = a
        at.b[line] = b
        at.c[line] = c
      }
    }
    for (const { inverted, levelDb, a, mostLoss } of drives) {
      let from = 0
      // As soon as all that is left would be no longer a run, there is nothing to look for.
      for (let line = 0; line < count && count - 1 - from > longest; line++) {
        const inFront = square(front, line, a)
        const keeps =
          inFront * mostLoss >= (rule.stackedFront[line] as number) && inFront >= leastRatio * square(behind, line, a)
        if (!keeps) from = line + 1
        else if (line - from > longest) {
          widest = { delayS, inverted, levelDb, from, to: line }
          longest = line - from
        }
      }
    }
  }
  return widest
}

/** By line: for each pair of groups g ≤ h of boxes with the same step, Σ over spots of p_g p_h*, weighted, its mean over spots. */
type Products = { re: Float64Array; im: Float64Array }

function products(search: SteeringSearch, side: 'front' | 'behind', groups: readonly number[]): Products {
  const { frequenciesHz, steps, spots, weights } = search
  const size = groups.length
  const [re, im] = [
    new Float64Array(frequenciesHz.length * size * size),
    new Float64Array(frequenciesHz.length * size * size),
  ]
  const [sumRe, sumIm] = [new Float64Array(size), new Float64Array(size)]
  const groupOf = steps.map((step) => groups.indexOf(step))
  for (let line = 0; line < frequenciesHz.length; line++) {
    const weight = (weights[line] as number) / spots
    for (let spot = 0; spot < spots; spot++) {
      sumRe.fill(0)
      sumIm.fill(0)
      for (const [box, response] of search[side].entries()) {
        const group = groupOf[box] as number
        sumRe[group] = (sumRe[group] as number) + (response.re[line * spots + spot] as number)
        sumIm[group] = (sumIm[group] as number) + (response.im[line * spots + spot] as number)
      }
      for (let g = 0; g < size; g++) {
        const [gRe, gIm] = [sumRe[g] as number, sumIm[g] as number]
        for (let h = g; h < size; h++) {
          const [hRe, hIm] = [sumRe[h] as number, sumIm[h] as number]
          const at = (line * size + g) * size + h
          re[at] = (re[at] as number) + weight * (gRe * hRe + gIm * hIm)
          im[at] = (im[at] as number) + weight * (gIm * hRe - gRe * hIm)
        }
      }
    }
  }
  return { re, im }
}

type Sums = { a: number; b: number; c: number }

/** A, B and C of a place, summed over the lines. */
function atDelay(all: Products, groups: readonly number[], frequenciesHz: readonly number[], delayS: number): Sums {
  const sum = { a: 0, b: 0, c: 0 }
  for (const [line, frequencyHz] of frequenciesHz.entries()) {
    const { a, b, c } = lineAtDelay(all, groups, frequencyHz, line, delayS)
    sum.a += a
    sum.b += b
    sum.c += c
  }
  return sum
}

/** The same of one line. */
function lineAtDelay(
  { re, im }: Products,
  groups: readonly number[],
  frequencyHz: number,
  line: number,
  delayS: number,
): Sums {
  const size = groups.length
  let [a, b, c] = [0, 0, 0]
  const phasePerStep = 2 * Math.PI * frequencyHz * delayS
  for (let g = 0; g < size; g++) {
    for (let h = g; h < size; h++) {
      const at = (line * size + g) * size + h
      // p_g e^{−jωs_gτ} (p_h e^{−jωs_hτ})*
      const phase = phasePerStep * ((groups[h] as number) - (groups[g] as number))
      const value =
        g === h ? (re[at] as number) : (re[at] as number) * Math.cos(phase) - (im[at] as number) * Math.sin(phase)
      const isFirst = (group: number) => groups[group] === 0
      if (isFirst(g) && isFirst(h)) a += value
      else if (isFirst(g)) c += value
      else b += g === h ? value : 2 * value
    }
  }
  return { a, b, c }
}
