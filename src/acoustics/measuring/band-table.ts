import { requireInRange } from '../numeric-range.ts'
import { numberRows } from './number-table.ts'
import { recordingBands } from './recording-bands.ts'
import { RecordingError } from './recording-problem.ts'

/** Levels of recordingBands, dB; null where there is none. */
export type BandColumn = (number | null)[]

/** A table of band levels: one column, or one in front and one behind. */
export type BandTable = {
  front: BandColumn
  behind: BandColumn | null
  /** Nominal frequencies of recordingBands that it does not hold, or only half, Hz. */
  missingHz: number[]
  /** Frequencies that are third octaves but lie outside recordingBands, Hz: they are passed over. */
  outsideHz: number[]
}

/** A frequency belongs to a band if it is within so much of the exact middle, in powers of ten: nominal ones are within 0.005. */
const nearness = 0.02
/** Lowest and highest level of a table, dB. */
const levelRangeDb = { min: -200, max: 200 } as const

/**
 * Reads a table of third-octave levels: a frequency in Hz and one level (front) or two (front, behind) in dB a row, as numberRows
 * takes them, in any order.
 *
 * @param text  the whole table
 * @throws RecordingError  as numberRows; table-columns for a row of one cell or more than three, or of another number than the first;
 *         table-frequency for a frequency that is no third octave; table-twice for a band that has come before; table-level for a
 *         level outside −200 to 200 dB; table-no-band if none is from 25 Hz to 16 kHz
 */
export function readBandTable(text: string): BandTable {
  const rows = numberRows(text, '#')
  const columns = Math.max(...rows.map(({ cells }) => cells.length))
  const levels = new Map<number, (number | null)[]>()
  const outsideHz: number[] = []
  for (const { line, cells } of rows) {
    if (cells.length < 2 || cells.length > 3 || columns > 3) {
      const found = cells.length < 2 ? cells.length : columns
      throw new RecordingError(
        { kind: 'table-columns', line, found, allowed: 3 },
        `Line ${line} has ${found} columns; allowed is a frequency and one level, or two (front, behind).`,
      )
    }
    const [frequencyHz, ...ofRow] = cells
    const band = bandAt(frequencyHz, line)
    for (const levelDb of ofRow) requireLevel(levelDb, line)
    if (band === 'outside') outsideHz.push(frequencyHz as number)
    else if (levels.has(band)) {
      throw new RecordingError(
        { kind: 'table-twice', line, frequencyHz: frequencyHz as number },
        `Line ${line} has ${frequencyHz} Hz, a band that stands there already; allowed is each band once.`,
      )
    } else levels.set(band, ofRow)
  }
  if (levels.size === 0) {
    throw new RecordingError({ kind: 'table-no-band' }, 'The table has no third octave from 25 Hz to 16 kHz.')
  }
  const column = (of: number): BandColumn => recordingBands.map((_, band) => levels.get(band)?.[of] ?? null)
  const front = column(0)
  const behind = columns === 3 ? column(1) : null
  const missingHz = recordingBands
    .filter((_, band) => front[band] === null || (behind !== null && behind[band] === null))
    .map(({ nominalHz }) => nominalHz)
  return { front, behind, missingHz, outsideHz }
}

function bandAt(frequencyHz: number | null | undefined, line: number): number | 'outside' {
  if (typeof frequencyHz === 'number' && frequencyHz >= 0.9 && frequencyHz <= 110_000) {
    const tenths = 10 * Math.log10(frequencyHz)
    if (Math.abs(tenths - Math.round(tenths)) <= 10 * nearness) {
      const band = recordingBands.findIndex(({ index }) => index === Math.round(tenths) - 30)
      return band < 0 ? 'outside' : band
    }
  }
  throw new RecordingError(
    { kind: 'table-frequency', line, frequencyHz: frequencyHz ?? 0 },
    `Line ${line} has the frequency ${frequencyHz ?? 'nothing'}; allowed is the middle of a third octave in Hz: 25, 31.5, 40, … 16000.`,
  )
}

function requireLevel(levelDb: number | null, line: number): void {
  if (levelDb === null || (levelDb >= levelRangeDb.min && levelDb <= levelRangeDb.max)) return
  throw new RecordingError(
    { kind: 'table-level', line, levelDb },
    `Line ${line} has the level ${levelDb} dB; allowed is ${levelRangeDb.min} to ${levelRangeDb.max} dB.`,
  )
}

/**
 * A table that readBandTable reads back: a header, then a row for each of recordingBands, levels with two decimals.
 *
 * @param columns  front and, if there is one, behind
 * @param form     'point' for decimal points and commas between cells (the default), 'comma' for decimal commas and semicolons
 * @throws RangeError if a column has another number of bands or a level is not finite
 */
export function writeBandTable(
  { front, behind }: Pick<BandTable, 'front' | 'behind'>,
  form: 'point' | 'comma' = 'point',
): string {
  const columns = behind ? [front, behind] : [front]
  for (const [i, column] of columns.entries()) {
    requireInRange(`columns[${i}].length`, column.length, { min: recordingBands.length, max: recordingBands.length })
    for (const levelDb of column) if (levelDb !== null) requireInRange('levelDb', levelDb, { unit: 'dB' })
  }
  const between = form === 'comma' ? ';' : ','
  const written = (value: string) => (form === 'comma' ? value.replace('.', ',') : value)
  const header = ['frequencyHz', 'frontDb', ...(behind ? ['behindDb'] : [])].join(between)
  const rows = recordingBands.map(({ nominalHz }, band) =>
    // An empty last cell would be taken for none: a dash stands for what was not measured.
    [written(String(nominalHz)), ...columns.map((column) => written(column[band]?.toFixed(2) ?? '-'))].join(between),
  )
  return `${[header, ...rows].join('\r\n')}\r\n`
}
