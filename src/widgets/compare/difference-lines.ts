import { type ComparedBand, interval95Db } from '../../acoustics/index.ts'
import { measuredRuns } from '../../charts/measured-runs.ts'

/** A band in a chart: at its frequency, what the other place has more than the front, dB, with its 95 % interval. */
export type DifferenceMark = { x: number; y: number; from: number; to: number }

/** The marks of some bands; undefined where a band was not measured. */
export const differenceMarks = (bands: readonly ComparedBand[]): (DifferenceMark | undefined)[] =>
  bands.map(({ nominalHz, difference }) => {
    if (!difference) return undefined
    const { fromDb, toDb } = interval95Db(difference)
    return { x: nominalHz, y: -difference.levelDb, from: -toDb, to: -fromDb }
  })

/** The range of levels of such a chart: whole tens, at least −30 … 10 dB, so that a line that grows does not make the axis jump. */
export const differenceRangeDb = (levelsDb: readonly number[]): [number, number] => [
  10 * Math.floor(Math.min(-30, ...levelsDb) / 10),
  10 * Math.ceil(Math.max(8, ...levelsDb) / 10),
]

/**
 * What a chart of one place against the front draws.
 *
 * @param predictedDb  by the same bands, dB; undefined without a prediction
 * @returns  marks that were measured, the same in runs without a gap, the prediction, the front, the range of levels and the mark that bears the name
 */
export function differenceLines(bands: readonly ComparedBand[], predictedDb: readonly number[] | undefined) {
  const marks = differenceMarks(bands)
  const measured = marks.filter((mark) => mark !== undefined)
  const predicted = predictedDb ? bands.map(({ nominalHz }, band) => ({ x: nominalHz, y: predictedDb[band] ?? 0 })) : []
  return {
    measured,
    runs: measuredRuns(marks),
    predicted,
    zero: bands.map(({ nominalHz }) => ({ x: nominalHz, y: 0 })),
    yDomain: differenceRangeDb([...measured, ...predicted].map(({ y }) => y)),
    named: measured[Math.floor(measured.length * 0.62)],
  }
}
