import { type SteerSet, steerRange } from './steer-terms.ts'

/** A centimetre of tape, m. */
const tapeM = 0.01

const onGrid = (value: number, step: number) => Number((Math.round(value / step) * step).toFixed(6))

/** A set as a tape and a delay can be set, and as a link carries it: to the centimetre, a tenth of a millisecond, half a decibel. */
export const settableSet = (set: SteerSet): SteerSet => ({
  ...set,
  spacingM: onGrid(set.spacingM, tapeM),
  delayS: onGrid(set.delayS, steerRange.delayS.step),
  levelDb: onGrid(set.levelDb, steerRange.levelDb.step),
})
