import { expect, test } from 'vitest'
import { finerMap } from '../../../src/charts/finer-map.ts'

const levelsOf = (columns: number, rows: number, of: (column: number, row: number) => number) => ({
  columns,
  rows,
  levelDb: Float32Array.from({ length: columns * rows }, (_, cell) => of(cell % columns, Math.floor(cell / columns))),
  inside: new Uint8Array(columns * rows),
})

test('a finer map has the levels of the map at its places, and a plane between them', () => {
  const map = levelsOf(4, 5, (column, row) => 2 * column - 3 * row + 1)
  const finer = finerMap(map, 3)
  expect([finer.columns, finer.rows]).toEqual([10, 13])
  for (let row = 0; row < 13; row++)
    for (let column = 0; column < 10; column++)
      expect(finer.levelDb[row * 10 + column]).toBeCloseTo((2 * column) / 3 - row + 1, 5)
})

test('it is exact at the places of any map', () => {
  const map = levelsOf(4, 3, (column, row) => Math.sin(3 * column) * 5 + row * row)
  const finer = finerMap(map, 2)
  for (let row = 0; row < 3; row++)
    for (let column = 0; column < 4; column++)
      expect(finer.levelDb[2 * row * 7 + 2 * column]).toBeCloseTo(map.levelDb[row * 4 + column] as number, 5)
})

test('inside a box stands what is beside it', () => {
  const map = levelsOf(3, 3, () => 6)
  map.levelDb[4] = 0
  map.inside[4] = 1
  expect(finerMap(map, 1).levelDb[4]).toBe(6)
  expect([...finerMap(map, 2).levelDb].every((level) => Math.abs(level - 6) < 1e-6)).toBe(true)
})
