import { readFileSync } from 'node:fs'
import { join } from 'node:path'
import { describe, expect, test } from 'vitest'
import type { Rig } from '../../../../../src/acoustics/index.ts'
import {
  bodiesOf,
  boxOf,
  boxPlaces,
  faultyBox,
  faultySheet,
  neededSpacingM,
  outlineOf,
  sizeOf,
  stackPlaces,
} from '../../../../../src/engine/questions/steer/steer-boxes.ts'
import { steerProblem } from '../../../../../src/engine/questions/steer/steer-check.ts'
import {
  arrangements,
  countRange,
  type SheetLine,
  type SteerQuestion,
  type SteerSet,
  steerErrorSize,
} from '../../../../../src/engine/questions/steer/steer-terms.ts'
import { textbookSet, textbookThatFits } from '../../../../../src/engine/questions/steer/textbook-set.ts'
import { evenHall } from '../../../../../src/engine/scene/hall-terms.ts'

const gear = (name: string): Rig =>
  JSON.parse(readFileSync(join(import.meta.dirname, '../../../../../content/gear', `${name}.json`), 'utf8'))
const rig = gear('top-over-sub')
const size = sizeOf({ rig, point: false })
const noSize = sizeOf({ rig, point: true })
const c = 343.2
const band = { fromHz: 40, toHz: 100 }
const pair: SteerSet = {
  arrangement: 'pair',
  count: 2,
  spacingM: 1.4,
  delayS: 0.004,
  inverted: true,
  turned: false,
  levelDb: -1,
}
const usual: SteerQuestion = {
  rig,
  point: false,
  set: pair,
  surroundings: { kind: 'outdoors', floor: 'hard' },
  front: { xM: 0, zM: 4 },
  behind: { xM: 0, zM: -3 },
  band,
  frequencyHz: 63,
  error: 'none',
}
const spots = (sheet: SheetLine[]) => sheet.map(({ xM, zM }) => [Number(xM.toFixed(9)), Number(zM.toFixed(9))])

describe('the box of a rig', () => {
  test('is the lowest way of the lowest cabinet', () => {
    expect(boxOf(rig).cabinet.name).toBe('sub')
    expect(boxOf(gear('column-on-base')).way.name).toBe('base')
    expect(boxOf(gear('compact-two-way')).way.name).toBe('woofer')
    expect(size).toEqual({ widthM: 0.56, heightM: 0.62, depthM: 0.66 })
  })
})

describe('where boxes stand and what they play', () => {
  test('a pair: the rear box a spacing behind, late, inverted and at its level', () => {
    expect(boxPlaces(pair, size)).toEqual([
      { box: 1, xM: 0, zM: 0, turned: false, delayS: 0, polarity: 1, levelDb: 0 },
      { box: 2, xM: 0, zM: -1.4, turned: false, delayS: 0.004, polarity: -1, levelDb: -1 },
    ])
  })

  test('a trio: the outer boxes beside a middle one that is turned, its face a spacing behind theirs', () => {
    const sheet = boxPlaces({ ...pair, arrangement: 'trio', count: 3, spacingM: 0.65, turned: true }, size)
    expect(spots(sheet)).toEqual([
      [-0.56, 0],
      [0, -0.65],
      [0.56, 0],
    ])
    expect(sheet.map(({ turned }) => turned)).toEqual([false, true, false])
    expect(sheet.map(({ delayS }) => delayS)).toEqual([0, 0.004, 0])
    // The turned one's body stands between the others.
    const body = bodiesOf(sheet, size)[1]
    expect(body?.zMinM).toBeCloseTo(-0.65, 12)
    expect(body?.zMaxM).toBeCloseTo(0.01, 12)
  })

  test('an end-fire line: the rearmost first, each a step later than the one behind it', () => {
    const sheet = boxPlaces({ ...pair, arrangement: 'end-fire', count: 3, spacingM: 1, inverted: false }, size)
    expect(spots(sheet)).toEqual([
      [0, -2],
      [0, -1],
      [0, 0],
    ])
    expect(sheet.map(({ delayS }) => delayS)).toEqual([0, 0.004, 0.008])
  })

  test('a row: delay grows from the middle outward, and the outer boxes are the others', () => {
    const sheet = boxPlaces({ ...pair, arrangement: 'row', count: 4, spacingM: 1 }, size)
    expect(spots(sheet)).toEqual([
      [-1.5, 0],
      [-0.5, 0],
      [0.5, 0],
      [1.5, 0],
    ])
    expect(sheet.map(({ delayS }) => delayS)).toEqual([0.004, 0, 0, 0.004])
    expect(sheet.map(({ polarity }) => polarity)).toEqual([-1, 1, 1, -1])
    const five = boxPlaces({ ...pair, arrangement: 'row', count: 5, spacingM: 1 }, size)
    expect(five.map(({ delayS }) => delayS)).toEqual([0.008, 0.004, 0, 0.004, 0.008])
  })

  test('left and right: the right one is the other; turned it stays where it is and looks to the rear', () => {
    const sheet = boxPlaces({ ...pair, arrangement: 'left-right', spacingM: 6, turned: true }, size)
    expect(spots(sheet)).toEqual([
      [-3, 0],
      [3, -0.66],
    ])
    const { xMinM, xMaxM, zMinM, zMaxM } = outlineOf(bodiesOf(sheet, size))
    expect([xMinM, xMaxM, zMinM, zMaxM].map((m) => Number(m.toFixed(9)))).toEqual([-3.28, 3.28, -0.66, 0])
  })

  test('nothing is minus zero, which a reader would see', () => {
    for (const arrangement of arrangements) {
      const { min } = countRange[arrangement]
      for (const { xM, zM } of boxPlaces({ ...pair, arrangement, count: min }, size)) {
        expect(Object.is(xM, -0) || Object.is(zM, -0)).toBe(false)
      }
    }
  })

  test('the stack: columns side by side, at most two high', () => {
    expect(stackPlaces(2, size).map(({ xM, yM }) => [xM, Number(yM.toFixed(6))])).toEqual([
      [0, 0.31],
      [0, 0.93],
    ])
    expect(stackPlaces(3, size).map(({ xM, yM }) => [Number(xM.toFixed(6)), Number(yM.toFixed(6))])).toEqual([
      [-0.28, 0.31],
      [-0.28, 0.93],
      [0.28, 0.31],
    ])
    expect(stackPlaces(4, noSize).every(({ xM, yM, zM }) => xM === 0 && yM === 0 && zM === 0)).toBe(true)
  })
})

describe('what goes wrong', () => {
  test('is done to the last box, in a trio to the middle one, and to no other', () => {
    expect(faultyBox({ ...pair, arrangement: 'trio', count: 3 })).toBe(2)
    expect(faultyBox({ ...pair, arrangement: 'row', count: 4 })).toBe(4)
    const sheet = boxPlaces(pair, size)
    expect(faultySheet(sheet, pair, 'late')[1]?.delayS).toBeCloseTo(0.004 + steerErrorSize.lateS, 12)
    expect(faultySheet(sheet, pair, 'quiet')[1]?.levelDb).toBe(-2)
    expect(faultySheet(sheet, pair, 'polarity')[1]?.polarity).toBe(1)
    for (const error of ['late', 'quiet', 'polarity'] as const) {
      expect(faultySheet(sheet, pair, error)[0]).toEqual(sheet[0])
    }
    expect(faultySheet(sheet, pair, 'wall')).toEqual(sheet)
  })
})

describe('questions that cannot be answered', () => {
  const problem = (change: Partial<SteerQuestion>, set: Partial<SteerSet> = {}) =>
    steerProblem({ ...usual, ...change, set: { ...pair, ...set } })

  test('a sound one has no problem', () => {
    expect(problem({})).toBeNull()
    expect(problem({ surroundings: { kind: 'wall', gapM: 2, floor: 'hard' } })).toBeNull()
  })

  test('zero spacing, or no number at all', () => {
    for (const spacingM of [0, -1, 12.1, Number.NaN, Number.POSITIVE_INFINITY]) {
      expect(problem({}, { spacingM })).toEqual({ kind: 'range', name: 'spacingM', min: 0.3, max: 12 })
    }
  })

  test('boxes in each other: it says what they need', () => {
    expect(problem({}, { spacingM: 0.6 })).toEqual({ kind: 'overlap', neededM: 0.7 })
    expect(problem({}, { spacingM: 0.66 })).toBeNull()
    // Back to back, face to face.
    expect(problem({}, { spacingM: 1.3, turned: true })).toEqual({ kind: 'overlap', neededM: 1.35 })
    expect(problem({}, { arrangement: 'row', count: 4, spacingM: 0.5 })).toEqual({ kind: 'overlap', neededM: 0.6 })
    expect(problem({ point: true }, { spacingM: 0.3 })).toBeNull()
    expect(neededSpacingM({ ...pair, arrangement: 'trio', count: 3, turned: true }, size)).toBe(0.3)
  })

  test('delay, level and gap out of range', () => {
    expect(problem({}, { delayS: 0.031 })).toMatchObject({ kind: 'range', name: 'delayS', max: 0.03 })
    expect(problem({}, { delayS: -0.001 })).toMatchObject({ kind: 'range', name: 'delayS' })
    expect(problem({}, { levelDb: 7 })).toMatchObject({ kind: 'range', name: 'levelDb', max: 6 })
    expect(problem({ surroundings: { kind: 'wall', gapM: 0, floor: 'hard' } })).toMatchObject({
      kind: 'range',
      name: 'gapM',
    })
  })

  test('more boxes than allowed, or part of one', () => {
    expect(problem({}, { count: 3 })).toEqual({ kind: 'count', min: 2, max: 2 })
    expect(problem({}, { arrangement: 'end-fire', count: 7 })).toEqual({ kind: 'count', min: 2, max: 6 })
    expect(problem({}, { arrangement: 'row', count: 2.5 })).toEqual({ kind: 'count', min: 2, max: 6 })
  })

  test('a band that does not rise or leaves the range', () => {
    for (const [fromHz, toHz] of [
      [60, 60],
      [80, 40],
      [20, 80],
      [40, 200],
      [Number.NaN, 80],
    ] as const) {
      expect(problem({ band: { fromHz, toHz } })).toEqual({ kind: 'band' })
    }
  })

  test('a box outside the hall, a listener in a box, outside the hall or behind the wall', () => {
    const hall = { kind: 'hall', design: evenHall({ lengthM: 18, widthM: 11, heightM: 4.6 }, 0.2) } as const
    expect(problem({ surroundings: hall, behind: { xM: 0, zM: -2.6 } })).toBeNull()
    expect(
      problem({ surroundings: hall, behind: { xM: 0, zM: -2.6 } }, { arrangement: 'end-fire', count: 4, spacingM: 1 }),
    ).toEqual({ kind: 'outside-hall' })
    expect(problem({ surroundings: hall, behind: { xM: 0, zM: -3.1 } })).toEqual({
      kind: 'place',
      which: 'behind',
      why: 'outside-hall',
    })
    expect(problem({ surroundings: hall, front: { xM: -3, zM: 4 }, behind: { xM: 0, zM: -2.6 } })).toEqual({
      kind: 'place',
      which: 'front',
      why: 'outside-hall',
    })
    expect(problem({ behind: { xM: 0, zM: -1.6 } })).toEqual({ kind: 'place', which: 'behind', why: 'in-a-box' })
    // The end of the row counts, too.
    expect(problem({ behind: { xM: 1.1, zM: -1.6 } })).toEqual({ kind: 'place', which: 'behind', why: 'in-a-box' })
    expect(problem({ surroundings: { kind: 'wall', gapM: 0.5, floor: 'hard' } })).toEqual({
      kind: 'place',
      which: 'behind',
      why: 'behind-wall',
    })
  })
})

describe('the setting of the books', () => {
  test('a quarter wavelength at the middle of the band, delay by the spacing', () => {
    // λ/4 at √(40 · 100) = 63.2 Hz is 1.357 m.
    const book = textbookSet('pair', 2, band, size, c)
    expect(book.spacingM).toBe(1.35)
    expect(book.delayS).toBeCloseTo(1.35 / c, 12)
    expect(book).toMatchObject({ inverted: true, turned: false, levelDb: 0 })
    expect(textbookSet('end-fire', 4, band, size, c)).toMatchObject({ spacingM: 1.35, inverted: false })
  })

  test('but at least what the boxes need', () => {
    expect(textbookSet('pair', 2, { fromHz: 140, toHz: 160 }, size, c).spacingM).toBe(0.7)
    expect(textbookSet('row', 4, { fromHz: 140, toHz: 160 }, { ...size, widthM: 1.2 }, c).spacingM).toBe(1.2)
  })

  test('a trio as far behind as a box is deep; a row within half a wavelength at the top; no delay in rows', () => {
    expect(textbookSet('trio', 3, band, size, c)).toMatchObject({ spacingM: 0.65, turned: true, inverted: true })
    const row = textbookSet('row', 4, band, size, c)
    expect(row).toMatchObject({ spacingM: 1.7, delayS: 0, inverted: false })
    expect(row.spacingM).toBeLessThanOrEqual(c / 200)
    expect(textbookSet('left-right', 2, band, size, c)).toMatchObject({ delayS: 0, inverted: false })
  })

  test('has no problem outdoors, whatever the band, the boxes and the arrangement', () => {
    for (const arrangement of arrangements) {
      for (const count of [countRange[arrangement].min, countRange[arrangement].max]) {
        for (const point of [false, true]) {
          for (const [fromHz, toHz] of [
            [30, 31],
            [30, 160],
            [100, 160],
          ] as const) {
            const set = textbookSet(arrangement, count, { fromHz, toHz }, sizeOf({ rig, point }), c)
            const question = { ...usual, point, set, band: { fromHz, toHz }, behind: { xM: 5, zM: -8 } }
            expect(steerProblem(question)).toBeNull()
          }
        }
      }
    }
  })

  test('comes closer together where a hall is too small, and gives none where nothing fits', () => {
    const hall = { kind: 'hall', design: evenHall({ lengthM: 18, widthM: 11, heightM: 4.6 }, 0.2) } as const
    const line = {
      ...usual,
      surroundings: hall,
      behind: { xM: 1.5, zM: -2.8 },
      set: { ...pair, arrangement: 'end-fire', count: 4 },
    } as const
    const fitted = textbookThatFits(line, c)
    expect(fitted?.spacingM).toBe(0.75)
    expect(fitted?.delayS).toBeCloseTo(0.75 / c, 12)
    expect(textbookThatFits({ ...line, set: { ...line.set, count: 6 } }, c)).toBeNull()
  })

  test('goes wider apart where a wall so far behind the set would cut the table off', () => {
    const walled = {
      ...usual,
      band: { fromHz: 100, toHz: 160 },
      surroundings: { kind: 'wall', gapM: 0.5, floor: 'hard' },
    } as const
    const fitted = textbookThatFits({ ...walled, behind: { xM: 0, zM: -2.5 } }, c)
    // 0.66 m of box and 0.5 m of gap behind the rear face.
    expect(fitted?.spacingM).toBe(1.35)
  })
})
