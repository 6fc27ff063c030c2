import { type DirectionTable, directionCells } from './direction-table.ts'
import { type ExpansionLine, type ExpansionTable, keptTerms } from './expansion-table.ts'

/** Orders beyond this no cabinet has; it bounds what is looked at. */
const highestOrder = 200

/**
 * Whether a value from outside (a file, a store) is a table that can be computed with: every number finite, lines and treble
 * at rising frequencies, every list as long as its line says. It says nothing of whose table it is.
 */
export function isExpansionTable(value: unknown): value is ExpansionTable {
  if (!isRecord(value)) return false
  const { speedOfSoundMps, densityKgM3, centreZM, radiusM, lines, directions } = value
  return (
    [speedOfSoundMps, densityKgM3, radiusM].every((number) => isFiniteNumber(number) && number > 0) &&
    isFiniteNumber(centreZM) &&
    Array.isArray(lines) &&
    lines.every(isLine) &&
    isRising(lines.map(({ frequencyHz }) => frequencyHz)) &&
    (directions === undefined || isDirectionTable(directions))
  )
}

function isLine(value: unknown): value is ExpansionLine {
  if (!isRecord(value)) return false
  const { frequencyHz, order, lopsided, re, im } = value
  if (!isFiniteNumber(frequencyHz) || !isWhole(order, 0, highestOrder) || !isFlag(lopsided)) return false
  const terms = keptTerms({ order, ...(lopsided && { lopsided }) })
  return isNumbers(re, terms) && isNumbers(im, terms)
}

function isDirectionTable(value: unknown): value is DirectionTable {
  if (!isRecord(value)) return false
  const { frequenciesHz, sourceYM, lopsided, elevations, levelsDb } = value
  if (!Array.isArray(frequenciesHz) || frequenciesHz.length < 2 || !isRising(frequenciesHz)) return false
  if (!isFiniteNumber(sourceYM) || !isFlag(lopsided)) return false
  if (elevations !== undefined && !(isWhole(elevations, 3, 181) && elevations % 2 === 1)) return false
  const cells = directionCells({ ...(lopsided && { lopsided }), ...(elevations !== undefined && { elevations }) })
  return isNumbers(levelsDb, frequenciesHz.length * cells)
}

const isRecord = (value: unknown): value is Record<string, unknown> => typeof value === 'object' && value !== null

const isFiniteNumber = (value: unknown): value is number => Number.isFinite(value)

const isWhole = (value: unknown, min: number, max: number): value is number =>
  Number.isInteger(value) && (value as number) >= min && (value as number) <= max

const isFlag = (value: unknown): value is true | undefined => value === undefined || value === true

/** A list of finite numbers, plain or typed, of this length. */
function isNumbers(value: unknown, length: number): boolean {
  const isList = Array.isArray(value) || value instanceof Float32Array || value instanceof Float64Array
  return isList && value.length === length && Array.from(value).every(isFiniteNumber)
}

const isRising = (values: unknown[]): boolean =>
  values.every((value, i) => isFiniteNumber(value) && value > (i === 0 ? 0 : (values[i - 1] as number)))
