import { RecordingError } from './recording-problem.ts'

/** One row of a table of numbers: its line in the text, from 1, and its cells; null for an empty one. */
export type NumberRow = { line: number; cells: (number | null)[] }

/** Longest text that is read, characters: a table of bands has a few hundred. */
const longestText = 1_000_000

const number = /^[+-]?(?:\d+(?:[.,]\d*)?|[.,]\d+)(?:[eE][+-]?\d+)?$/
const wholeNumber = /^[+-]?\d+$/

/**
 * Rows of a table of numbers in plain text: cells between tabs, semicolons, commas or blanks; decimal comma or point; blank lines
 * and quotation marks do not count. The first line may be a header. An empty cell, or one with only a dash, has no number.
 *
 * @param text      up to a million characters
 * @param comments  characters that make a line a comment when they begin it
 * @throws RecordingError  table-line for a line with something else than numbers, table-empty for a text without a row, too-large
 */
export function numberRows(text: string, comments = ''): NumberRow[] {
  if (text.length > longestText) {
    throw new RecordingError(
      { kind: 'too-large', bytes: text.length, mostBytes: longestText },
      `The text has ${text.length} characters; allowed is up to ${longestText}.`,
    )
  }
  const lines = text
    .replace(/^\uFEFF/, '')
    .split(/\r\n|\r|\n/)
    .map((content, index) => ({ line: index + 1, content: content.trim() }))
    .filter(({ content }) => content !== '' && !comments.includes(content[0] as string))
  const rows: NumberRow[] = []
  for (const [index, { line, content }] of lines.entries()) {
    const cells = cellsOf(content).map((cell) => cell.replace(/^"(.*)"$/, '$1').trim())
    while (cells.length > 1 && cells.at(-1) === '') cells.pop()
    const values = cells.map(numberOf)
    if (values.every((value) => value !== undefined)) rows.push({ line, cells: values })
    else if (index > 0) {
      throw new RecordingError(
        { kind: 'table-line', line, text: content.slice(0, 60) },
        `Line ${line} is '${content.slice(0, 60)}'; allowed are numbers: a frequency in Hz, then levels in dB.`,
      )
    }
  }
  if (rows.length === 0) throw new RecordingError({ kind: 'table-empty' }, 'The table has no row of numbers.')
  return rows
}

function cellsOf(content: string): string[] {
  if (content.includes('\t')) return content.split('\t')
  if (content.includes(';')) return content.split(';')
  const byBlanks = content.split(/\s+/)
  if (!content.includes(',')) return byBlanks
  // '63,5 71,2' has decimal commas and blanks between its cells; '63, 71.2' has commas between them.
  if (byBlanks.length > 1 && byBlanks.every((cell) => number.test(cell))) return byBlanks
  return content.split(',')
}

/** undefined for what is no number. */
function numberOf(cell: string): number | null | undefined {
  if (cell === '' || cell === '-' || cell === '–') return null
  if (!number.test(cell)) return undefined
  const value = wholeNumber.test(cell) ? Number(cell) : Number(cell.replace(',', '.'))
  return Number.isFinite(value) ? value : undefined
}
