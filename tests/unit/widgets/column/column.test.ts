import { describe, expect, test } from 'vitest'
import { columnAnswer } from '../../../../src/engine/questions/column/column.ts'
import { columnFacts } from '../../../../src/engine/questions/column/column-facts.ts'
import { columnLengthM } from '../../../../src/engine/questions/column/column-terms.ts'
import { defaultState, readLink, writeLink } from '../../../../src/state/share-link.ts'
import { type ColumnState, columnLink, columnOf, lowestHeightM } from '../../../../src/widgets/column/column-link.ts'
import { columnExtent, columnGrid } from '../../../../src/widgets/column/column-views.ts'
import {
  behindWords,
  columnSentence,
  levelWords,
  nearSentence,
  spacingSentence,
  wavesOf,
} from '../../../../src/widgets/column/describe-column.ts'
import { guessColumnVerdict } from '../../../../src/widgets/column/describe-guess-column.ts'
import { guessColumnLink } from '../../../../src/widgets/column/guess-column-link.ts'

const column = columnOf(defaultState(columnLink))
const at = (frequencyHz: number, change: Partial<typeof column> = {}) =>
  columnAnswer({ column: { ...column, ...change }, frequencyHz })

describe('the link of the column', () => {
  test('keeps a whole state', () => {
    const state: ColumnState = {
      count: 12,
      spacingM: 0.08,
      heightM: 2.05,
      tiltDeg: 4,
      frequencyHz: 2500,
      picture: 'waves',
      place: 'above',
      signal: 'music',
      level: 'matched',
      units: 'ft',
    }
    const params = writeLink(columnLink, state, new URLSearchParams())
    expect(readLink(columnLink, new URLSearchParams(params.toString()))).toMatchObject({ state, dropped: [] })
  })
  test('drops half a driver, a frequency between the bands and a place that nobody has', () => {
    const { state, dropped } = readLink(
      columnLink,
      new URLSearchParams('column.count=7.5&column.frequencyHz=1001&column.place=roof&column.tiltDeg=3'),
    )
    expect(state).toEqual({ ...defaultState(columnLink), tiltDeg: 3 })
    expect(dropped).toHaveLength(3)
  })
  test('a long column stands on its foot, not in the floor', () => {
    const long = columnOf({ ...defaultState(columnLink), count: 24, spacingM: 0.3 })
    expect(long.heightM).toBeCloseTo(3.6, 9)
    expect(lowestHeightM({ count: 8, spacingM: 0.1125 })).toBeCloseTo(0.45, 9)
    for (const row of [
      { count: 3, spacingM: 0.0475 },
      { count: 23, spacingM: 0.2975 },
    ])
      expect(lowestHeightM(row)).toBeGreaterThanOrEqual(columnLengthM(row) / 2 - 1e-9)
  })
})

describe('the views', () => {
  test('share one scale and one stretch, and hold the whole column', () => {
    for (const one of [column, columnOf({ ...defaultState(columnLink), count: 24, spacingM: 0.3 })]) {
      const extent = columnExtent(one)
      const [side, top] = [columnGrid(extent, 'side'), columnGrid(extent, 'top')]
      expect([side.zMinM, side.zMaxM]).toEqual([top.zMinM, top.zMaxM])
      expect(side.topM - side.bottomM).toBeCloseTo(top.bottomM - top.topM, 9)
      expect((side.zMaxM - side.zMinM) / (side.across - 1)).toBeCloseTo((side.topM - side.bottomM) / (side.down - 1), 9)
      expect(side.topM).toBeGreaterThan(one.heightM + columnLengthM(one) / 2)
    }
  })
})

describe('the column in words', () => {
  test('says how long it is, what is above and behind, and what the bass does', () => {
    const answer = at(1000)
    expect(columnSentence(answer, 1000)).toBe(
      `At 1 kHz the column is 2.6 wavelengths long: far away, 30° above its axis, it is ${levelWords(answer.aboveDb)}. ` +
        `Straight behind it is ${behindWords(answer.behindDb)}; at 100 Hz, as loud as in front.`,
    )
    expect(columnSentence(at(100), 100)).toBe(
      'At 100 Hz the column is 0.3 wavelengths long: far away, 30° above its axis, it is as loud as on it. Straight behind it is as loud as in front.',
    )
  })
  test('levels are whole decibels with their direction; far down no number is promised; behind is about', () => {
    expect(levelWords(-6.6)).toBe('7 dB down')
    expect(levelWords(0.8)).toBe('1 dB up')
    expect(levelWords(-0.3)).toBe('as on the axis')
    expect(levelWords(-44)).toBe('more than 30 dB down')
    expect(behindWords(-6.6)).toBe('about 7 dB down')
    expect(behindWords(-0.9)).toBe('1 dB down')
    expect(behindWords(-44)).toBe('more than 30 dB down')
    expect([0.262, 1.02, 9.96, 20.9].map(wavesOf)).toEqual([0.3, 1, 10, 21])
  })
  test('the spacing is told against half a wave and a whole one', () => {
    expect(spacingSentence(at(1000), 0.1125, 'm')).toBe(
      'The drivers are 11 cm apart, less than half the wavelength of 34 cm: they act as one line, with one beam.',
    )
    expect(spacingSentence(at(2000), 0.1125, 'm')).toContain(
      'less than the wavelength of 17 cm but more than half of it',
    )
    expect(spacingSentence(at(4000), 0.1125, 'm')).toMatch(
      /more than the wavelength of 9 cm: neighbours are a whole wave out at 50° .* \d dB down\.$/,
    )
    expect(spacingSentence(at(1000), 0.1125, 'ft')).toContain('4.5 in apart')
  })
  test('says so where the listeners are too near for the pattern', () => {
    expect(nearSentence(at(1000))).toBe('')
    expect(nearSentence(at(1000, { count: 24, spacingM: 0.3, heightM: 3.6 }))).toContain('too near')
  })
})

describe('the guess', () => {
  const computed = { bassBehindDb: -0.1, aboveDb: -14 }
  test('is told for both places, with what it says about the belief', () => {
    expect(guessColumnVerdict({ bassBehindDb: -20, aboveDb: -13 }, computed)).toBe(
      'Behind, at 100 Hz, you were 20 dB too low; above, at 1 kHz, you were within 3 dB. ' +
        'The column does not keep its bass off the stage: a wave this long goes round it and over it.',
    )
    expect(guessColumnVerdict({ bassBehindDb: 5, aboveDb: -14 }, computed)).toContain('There is not more bass behind')
    expect(guessColumnVerdict({ bassBehindDb: 0, aboveDb: 0 }, computed)).toContain('14 dB too high')
    expect(guessColumnVerdict({ bassBehindDb: 0, aboveDb: -30 }, computed)).toContain('not that sharply yet')
    expect(guessColumnVerdict({ bassBehindDb: 1, aboveDb: -15 }, computed)).toContain('You knew it.')
  })
  test('starts where neither guess is right', () => {
    const { bassBehindDb, aboveDb } = at(1000)
    const verdict = guessColumnVerdict(defaultState(guessColumnLink), { bassBehindDb: bassBehindDb, aboveDb })
    expect(verdict).not.toContain('within')
  })
})

describe('the facts of the lesson', () => {
  const facts = columnFacts(column)
  test('are those of the figure, and half pressure is where a table of sin u / u has it', () => {
    expect(facts['above-1000'].value).toBeCloseTo(-at(1000).aboveDb, 9)
    // u = 1.895494 (Kinsler et al., the line source)
    expect(Math.sin((facts['half-1000'].value * Math.PI) / 180)).toBeCloseTo((1.895494 / Math.PI) * (0.3432 / 0.9), 5)
    expect(facts['seated-2000'].value).toBeGreaterThan(5)
    const leaning = { ...column, tiltRad: (facts['seated-tilt'].value * Math.PI) / 180 }
    expect(Math.abs(columnAnswer({ column: leaning, frequencyHz: 2000 }).placesDb.seated)).toBeLessThan(0.5)
    expect(Math.abs(facts['solved-behind-1000'].value - facts['behind-1000'].value)).toBeLessThan(1.5)
  })
})
