import { type DirectionTable, directionCells } from './direction-table.ts'
import { type ExpansionLine, type ExpansionTable, keptTerms } from './expansion-table.ts'

/** Version of the layout below; a file of another version is not read. */
const layoutVersion = 2

type PackedLine = Omit<ExpansionLine, 're' | 'im'> & { scale: number }
type PackedTable = Omit<ExpansionTable, 'lines' | 'directions'> & {
  /** What the table is for, in the writer's words; comes back unchanged. */
  key: string
  lines: PackedLine[]
  directions?: Omit<DirectionTable, 'levelsDb'>
}
type Header = { version: number; tables: PackedTable[] }

/** Steps of the stored levels, a hundredth of a decibel. */
const stepsPerDb = 100

const directionCount = (directions: Omit<DirectionTable, 'levelsDb'>): number =>
  directions.frequenciesHz.length * directionCells(directions)

/**
 * Packs tables into bytes: a 32-bit length, a JSON header, then 16-bit integers, little-endian. For each table: of each line
 * the terms as pairs re and im, in steps of the line's largest value over 32 767, that is 90 dB below it; then its levels
 * all round, if it has any, in hundredths of a decibel.
 */
export function packExpansionTables(tables: Map<string, ExpansionTable>): Uint8Array {
  const header: Header = { version: layoutVersion, tables: [] }
  const integers: number[] = []
  const packLine = ({ re, im, ...line }: ExpansionLine): PackedLine => {
    const terms = keptTerms(line)
    let largest = 0
    for (let t = 0; t < terms; t++) {
      largest = Math.max(largest, Math.abs(re[t] as number), Math.abs(im[t] as number))
    }
    const scale = largest / 32767
    for (let t = 0; t < terms; t++) {
      integers.push(Math.round((re[t] as number) / scale), Math.round((im[t] as number) / scale))
    }
    return { ...line, scale }
  }
  for (const [key, { lines, directions, ...rest }] of tables) {
    const packed: PackedTable = { key, ...rest, lines: lines.map(packLine) }
    if (directions) {
      const { levelsDb, ...frame } = directions
      packed.directions = frame
      for (let i = 0; i < directionCount(frame); i++) integers.push(Math.round((levelsDb[i] as number) * stepsPerDb))
    }
    header.tables.push(packed)
  }
  const json = new TextEncoder().encode(JSON.stringify(header))
  const bytes = new Uint8Array(4 + json.length + 2 * integers.length)
  const view = new DataView(bytes.buffer)
  view.setUint32(0, json.length, true)
  bytes.set(json, 4)
  for (const [i, integer] of integers.entries()) view.setInt16(4 + json.length + 2 * i, integer, true)
  return bytes
}

/**
 * Unpacks what packExpansionTables made.
 *
 * @throws Error in plain words if the bytes are not such a file, of another version, or cut short
 */
export function unpackExpansionTables(bytes: Uint8Array): Map<string, ExpansionTable> {
  const view = new DataView(bytes.buffer, bytes.byteOffset, bytes.byteLength)
  const length = bytes.length >= 4 ? view.getUint32(0, true) : Number.POSITIVE_INFINITY
  if (length > bytes.length - 4) throw new Error('These bytes are not a file of solved cabinets.')
  const { version, tables } = JSON.parse(new TextDecoder().decode(bytes.subarray(4, 4 + length))) as Header
  if (version !== layoutVersion) {
    throw new Error(`The file of solved cabinets has layout ${version}; this program reads layout ${layoutVersion}.`)
  }
  let place = 4 + length
  let count = 0
  for (const { lines, directions } of tables) {
    for (const line of lines) count += 2 * keptTerms(line)
    if (directions) count += directionCount(directions)
  }
  if (bytes.length !== place + 2 * count) throw new Error('The file of solved cabinets is cut short or spoilt.')
  const nextInteger = (): number => {
    place += 2
    return view.getInt16(place - 2, true)
  }
  const unpackLine = ({ scale, ...line }: PackedLine): ExpansionLine => {
    const re = new Float32Array(keptTerms(line))
    const im = new Float32Array(keptTerms(line))
    for (let t = 0; t < re.length; t++) {
      re[t] = nextInteger() * scale
      im[t] = nextInteger() * scale
    }
    return { ...line, re, im }
  }
  return new Map(
    tables.map(({ key, lines: packed, directions, ...rest }): [string, ExpansionTable] => {
      const table: ExpansionTable = { ...rest, lines: packed.map(unpackLine) }
      if (directions) {
        const levelsDb = Float32Array.from({ length: directionCount(directions) }, () => nextInteger() / stepsPerDb)
        table.directions = { ...directions, levelsDb }
      }
      return [key, table]
    }),
  )
}
