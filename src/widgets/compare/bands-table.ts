import { halfIntervalDb } from '../../acoustics/index.ts'
import type { CompareAnswer } from '../../engine/questions/compare/compare-terms.ts'

/** The bands of a comparison as CSV: levels, behind less front, and half of its 95 % interval, dB; an empty cell where nothing was measured. */
export function bandsCsv({ bands }: Pick<CompareAnswer, 'bands'>): string {
  const cell = (levelDb: number | undefined) => levelDb?.toFixed(2) ?? ''
  const rows = bands.map(({ nominalHz, levels, difference }) =>
    [
      nominalHz,
      cell(levels?.front.levelDb),
      cell(levels?.behind.levelDb),
      cell(difference ? -difference.levelDb : undefined),
      cell(difference ? halfIntervalDb(difference) : undefined),
    ].join(','),
  )
  return `${['frequencyHz,frontDb,behindDb,behindMinusFrontDb,halfInterval95Db', ...rows].join('\r\n')}\r\n`
}
