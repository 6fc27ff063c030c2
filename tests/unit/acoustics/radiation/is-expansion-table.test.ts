import { describe, expect, test } from 'vitest'
import { type ExpansionTable, isExpansionTable } from '../../../../src/acoustics/index.ts'
import { directionCells } from '../../../../src/acoustics/radiation/direction-table.ts'
import { keptTerms } from '../../../../src/acoustics/radiation/expansion-table.ts'

/** A table of two lines, one of them lopsided, and of treble. */
function whole(): ExpansionTable {
  const line = (frequencyHz: number, order: number, lopsided?: true) => {
    const terms = keptTerms({ order, ...(lopsided && { lopsided }) })
    const [re, im] = [new Float64Array(terms).fill(0.5), Array<number>(terms).fill(-1)]
    return { frequencyHz, order, ...(lopsided && { lopsided }), re, im }
  }
  const frame = { elevations: 5, lopsided: true as const }
  return {
    speedOfSoundMps: 343,
    densityKgM3: 1.2,
    centreZM: -0.1,
    radiusM: 0.4,
    lines: [line(100, 2), line(200, 3, true)],
    directions: {
      frequenciesHz: [200, 400],
      sourceYM: 0.1,
      ...frame,
      levelsDb: new Float32Array(2 * directionCells(frame)).fill(-3),
    },
  }
}

test('a whole table is one, with its treble or without', () => {
  expect(isExpansionTable(whole())).toBe(true)
  const { directions: _, ...rest } = whole()
  expect(isExpansionTable(rest)).toBe(true)
  expect(isExpansionTable(structuredClone(whole()))).toBe(true)
})

describe('what is spoilt is none', () => {
  test.each([null, undefined, 3, 'table', [], {}, { lines: null }])('%j', (value) => {
    expect(isExpansionTable(value)).toBe(false)
  })

  // biome-ignore lint/suspicious/noExplicitAny: spoils on purpose what the type would forbid
  const spoilings: [string, (table: any) => void][] = [
    ['a null line', (table) => (table.lines[1] = null)],
    ['a line without its list', (table) => delete table.lines[0].im],
    ['a list too short', (table) => (table.lines[0].re = table.lines[0].re.slice(1))],
    ['a list too long', (table) => (table.lines[1].im = [...table.lines[1].im, 0])],
    ['both lists too short', (table) => (table.lines[0].order = 3)],
    ['NaN among the coefficients', (table) => (table.lines[0].re[2] = Number.NaN)],
    ['a hole among the coefficients', (table) => delete table.lines[0].im[2]],
    ['an infinite coefficient', (table) => (table.lines[1].im[4] = Number.POSITIVE_INFINITY)],
    ['a text for a coefficient', (table) => (table.lines[1].im[4] = '1')],
    ['an order that is not whole', (table) => (table.lines[0].order = 2.5)],
    ['an order without bounds', (table) => (table.lines[0].order = 1e9)],
    ['lines that do not rise', (table) => table.lines.reverse()],
    ['a line at NaN', (table) => (table.lines[0].frequencyHz = Number.NaN)],
    ['no speed of sound', (table) => (table.speedOfSoundMps = 0)],
    ['no radius', (table) => delete table.radiusM],
    ['NaN for its centre', (table) => (table.centreZM = Number.NaN)],
    ['null for treble', (table) => (table.directions = null)],
    ['treble of one frequency', (table) => (table.directions.frequenciesHz = [200])],
    ['treble that falls', (table) => table.directions.frequenciesHz.reverse()],
    ['levels too few', (table) => (table.directions.levelsDb = table.directions.levelsDb.slice(1))],
    ['NaN among the levels', (table) => (table.directions.levelsDb[7] = Number.NaN)],
    ['an even count of elevations', (table) => (table.directions.elevations = 4)],
    ['no place for its source', (table) => delete table.directions.sourceYM],
  ]
  test.each(spoilings)('%s', (_, spoil) => {
    const table = whole()
    spoil(table)
    expect(isExpansionTable(table)).toBe(false)
  })
})
