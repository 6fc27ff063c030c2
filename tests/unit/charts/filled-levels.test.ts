import { expect, test } from 'vitest'
import { filledLevels } from '../../../src/charts/filled-levels.ts'
import { levelContours } from '../../../src/charts/level-contours.ts'

/** A room in the left half of a grid, at −10 dB everywhere; beyond its wall there is nothing, which computes as 0 dB. */
const room = () => {
  const [columns, rows] = [8, 6]
  const inside = Uint8Array.from({ length: columns * rows }, (_, cell) => (cell % columns < 4 ? 0 : 1))
  return { columns, rows, inside, levelDb: Float32Array.from(inside, (covered) => (covered ? 0 : -10)) }
}

test('beyond a wall stands what is before it, however far, and every cell knows how far behind it lies', () => {
  const map = room()
  const { levelDb, rings } = filledLevels(map)
  expect([...levelDb].every((level) => level === -10)).toBe(true)
  expect([...rings].slice(0, map.columns)).toEqual([0, 0, 0, 0, 1, 2, 3, 4])
  // What is there stays as it is.
  expect([...map.levelDb].filter((level) => level === 0)).toHaveLength(24)
})

test('no contour runs along a wall, where one did', () => {
  const map = room()
  const anywhere = () => true
  const contours = (levelDb: Float32Array) =>
    levelContours(levelDb, map.columns, map.rows, anywhere, [-6]).flatMap(({ lines }) => lines)
  expect(contours(map.levelDb).length).toBeGreaterThan(0)
  expect(contours(filledLevels(map).levelDb)).toEqual([])
})

test('a box takes the mean of its two sides in its middle', () => {
  const levelDb = Float32Array.from([-2, 0, 0, 0, -8])
  const inside = Uint8Array.from([0, 1, 1, 1, 0])
  const filled = filledLevels({ levelDb, inside, columns: 5, rows: 1 })
  expect([...filled.levelDb]).toEqual([-2, -2, -5, -8, -8])
  expect([...filled.rings]).toEqual([0, 1, 2, 1, 0])
})

test('a grid without any level stays as it is', () => {
  const levelDb = new Float32Array(4)
  expect([...filledLevels({ levelDb, inside: new Uint8Array(4).fill(1), columns: 2, rows: 2 }).levelDb]).toEqual([
    0, 0, 0, 0,
  ])
})

test('a corner is filled as its sides are', () => {
  const levelDb = Float32Array.from([0, 0, 0, -6])
  const { levelDb: filled, rings } = filledLevels({
    levelDb,
    inside: Uint8Array.from([1, 1, 1, 0]),
    columns: 2,
    rows: 2,
  })
  expect([...filled]).toEqual([-6, -6, -6, -6])
  expect([...rings]).toEqual([1, 1, 1, 0])
})
