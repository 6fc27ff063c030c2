import { linesInBand, type SteeringLines, steeringFigures } from '../../../acoustics/index.ts'
import { type SteerQuestion, type SteerSet, steerLinesHz, steerRange, trimRange, usableRule } from './steer-terms.ts'

/** A rejection must be better by more than this to count as better, dB: rounding. */
const betterByDb = 1e-9

/** Values of a range's grid within so much of the present one, and that one itself, nearest first. */
function near(
  present: number,
  within: number,
  { min, max, step }: { min: number; max: number; step: number },
): number[] {
  const from = Math.ceil((Math.max(min, present - within) - 1e-9) / step)
  const to = Math.floor((Math.min(max, present + within) + 1e-9) / step)
  const grid = Array.from({ length: to - from + 1 }, (_, i) => Number(((from + i) * step).toFixed(6)))
  const others = grid.filter((value) => Math.abs(value - present) > 1e-9)
  return [present, ...others.toSorted((a, b) => Math.abs(a - present) - Math.abs(b - present) || a - b)]
}

/**
 * The present set with the delay and level of the others that reject most. Every setting of the grid is tried, nearest to
 * the present one first; polarity stays, which is why this is not bestSteeringDrive. Others that play louder than the first
 * count as lost, as in a search.
 */
export function trimmedSet(
  { set, band }: SteerQuestion,
  linesAt: (set: SteerSet, among: readonly number[]) => SteeringLines,
): SteerSet {
  const among = linesInBand(steerLinesHz, band)
  const figuresOf = (of: SteerSet) => {
    const { rejectionDb, frontLossDb } = steeringFigures(linesAt(of, among), among)
    return { rejectionDb, lostDb: frontLossDb + Math.max(0, of.levelDb) }
  }
  const present = figuresOf(set)
  const mostLostDb = Math.max(usableRule.frontLossDb, present.lostDb) + betterByDb
  let [best, mostDb] = [set, present.rejectionDb]
  for (const delayS of near(set.delayS, trimRange.delayS, steerRange.delayS)) {
    for (const levelDb of near(set.levelDb, trimRange.levelDb, steerRange.levelDb)) {
      const tried = { ...set, delayS, levelDb }
      const { rejectionDb, lostDb } = figuresOf(tried)
      if (lostDb > mostLostDb || rejectionDb <= mostDb + betterByDb) continue
      best = tried
      mostDb = rejectionDb
    }
  }
  return best
}
