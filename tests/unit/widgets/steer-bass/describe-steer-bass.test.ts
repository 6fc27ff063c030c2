import { describe, expect, test } from 'vitest'
import type {
  SheetLine,
  SteerMerits,
  SteerSet,
  SteerSuggestion,
} from '../../../../src/engine/questions/steer/steer-terms.ts'
import {
  boxParts,
  countNotice,
  coverTitle,
  errorName,
  floorSentence,
  lanesSentence,
  movedNotice,
  partLines,
  polarSentence,
  problemText,
  rejectionSentence,
  settingText,
  steerSentence,
  usableWords,
} from '../../../../src/widgets/steer-bass/describe-steer-bass.ts'
import { suggestionSentence } from '../../../../src/widgets/steer-bass/describe-suggestion.ts'
import { sheetColumns, sheetRows, sheetText } from '../../../../src/widgets/steer-bass/sheet-text.ts'
import { tapeText } from '../../../../src/words/lengths.ts'
import { signedLevelText } from '../../../../src/words/levels.ts'

const set: SteerSet = {
  arrangement: 'pair',
  count: 2,
  spacingM: 1.35,
  delayS: 0.0039,
  inverted: true,
  turned: false,
  levelDb: 0,
}
const band = { fromHz: 40, toHz: 100 }
const merits: SteerMerits = {
  rejectionDb: 13.6,
  frontLossDb: 0.9,
  behindCutDb: 14.2,
  usable: { fromHz: 37.5, toHz: 92.4 },
}

describe('the sentence', () => {
  test('says what the table gains, what the front loses and where it works', () => {
    expect(steerSentence(merits, { set, error: 'none', band }, 'm')).toBe(
      'Behind, at the table, this set is 14 dB quieter than the same two boxes stacked; in front it costs 1 dB. It works from 38 to 92 Hz.',
    )
  })
  test('hides no loss, no gain in front and no failure', () => {
    const worse = { ...merits, behindCutDb: -3.2, frontLossDb: -1.8, usable: null }
    expect(steerSentence(worse, { set: { ...set, count: 3 }, error: 'none', band }, 'm')).toBe(
      'Behind, at the table, this set is 3 dB louder than the same three boxes stacked; in front it brings 2 dB. Nowhere from 25 to 200 Hz does it keep 6 dB from the back for 3 dB or less in front.',
    )
    const same = { ...merits, behindCutDb: 0.2, frontLossDb: -0.3 }
    expect(steerSentence(same, { set, error: 'none', band }, 'm')).toMatch(
      /as loud as the same two .* it costs nothing\./,
    )
  })
  test('promises no more than the ground will keep', () => {
    expect(steerSentence({ ...merits, behindCutDb: 41 }, { set, error: 'none', band }, 'm')).toMatch(
      /this set is more than 20 dB quieter than/,
    )
    expect(rejectionSentence({ ...merits, rejectionDb: 41 }, { fromHz: 40, toHz: 100 })).toMatch(
      /more than 20 dB less goes/,
    )
    expect(steerSentence({ ...merits, behindCutDb: 20.4 }, { set, error: 'none', band }, 'm')).toMatch(
      /is 20 dB quieter/,
    )
  })
  test('names the error that is on', () => {
    expect(steerSentence(merits, { set, error: 'late', band }, 'm')).toMatch(
      /^With one box 0\.3 ms late: behind, at the table/,
    )
    expect(errorName('wall', 'm')).toBe('a hard wall 50 cm behind')
    expect(errorName('wall', 'ft')).toBe('a hard wall 19.5 in behind')
  })
  test('one frequency alone is not called a band', () => {
    expect(usableWords({ ...merits, usable: { fromHz: 50.2, toHz: 50.2 } }, band)).toBe('It works at 50 Hz alone.')
  })
  test('a set that works outside the reader’s band alone is not praised for it', () => {
    const apart = { rejectionDb: -2.2, frontLossDb: 6.6, behindCutDb: 2, usable: { fromHz: 115.5, toHz: 200 } }
    expect(steerSentence(apart, { set, error: 'none', band }, 'm')).toBe(
      'Behind, at the table, this set is 2 dB quieter than the same two boxes stacked; in front it costs 7 dB. It does not work from 40 to 100 Hz.',
    )
    for (const usable of [
      { fromHz: 25, toHz: 40 },
      { fromHz: 100, toHz: 140 },
    ])
      expect(usableWords({ ...apart, usable }, band)).toBe('It does not work from 40 to 100 Hz.')
    // A part of the band is told as it is, and so is one elsewhere where over the reader's own the rule is kept.
    expect(usableWords({ ...apart, usable: { fromHz: 89.1, toHz: 200 } }, band)).toBe('It works from 89 to 200 Hz.')
    expect(usableWords({ ...merits, usable: { fromHz: 115.5, toHz: 200 } }, band)).toBe('It works from 116 to 200 Hz.')
    for (const fails of [{ rejectionDb: 5.9 }, { frontLossDb: 3.1 }])
      expect(usableWords({ ...merits, ...fails, usable: { fromHz: 115.5, toHz: 200 } }, band)).toMatch(/not work/)
  })
})

test('front over behind is told with its sign in words', () => {
  expect(rejectionSentence(merits, band)).toBe(
    'From 40 to 100 Hz, at equal distance, 14 dB less goes to the back than to the front.',
  )
  expect(rejectionSentence({ ...merits, rejectionDb: -2.6 }, band)).toMatch(/3 dB more goes to the back/)
  expect(rejectionSentence({ ...merits, rejectionDb: 0.4 }, band)).toMatch(/as much goes to the back as to the front/)
})

test('the floor that a set takes is told beside the stack’s, and points take none', () => {
  const pair = { boxes: 2, widthM: 0.56, depthM: 2.01, floorM2: 1.13 }
  expect(floorSentence(pair, { widthM: 0.56, depthM: 0.66 }, 'm')).toBe(
    'It takes two boxes and 0.56 m × 2.01 m of floor, across × deep; stacked they take 0.56 m × 0.66 m.',
  )
  expect(floorSentence(pair, { widthM: 0.56, depthM: 0.66 }, 'ft')).toContain('1 ft 10 in × 6 ft 7 in')
  expect(floorSentence({ ...pair, widthM: 0 }, { widthM: 0, depthM: 0 }, 'm')).toBe('')
})

describe('the pattern', () => {
  const polar = (ahead: number, back: number) => ({ setDb: [ahead, -1, back, -1], stackedDb: [0, 0, 0, 0] })
  test('is told straight ahead and straight back', () => {
    expect(polarSentence(polar(-1.2, -13), 63)).toBe(
      'At 63 Hz, far away outdoors, 12 dB less goes straight back than straight ahead; straight ahead it is 1 dB quieter than the stack.',
    )
    expect(polarSentence(polar(0, 0), 63)).toMatch(/as much goes straight back as straight ahead/)
    expect(polarSentence(polar(0, -80), 63)).toMatch(/more than 20 dB less goes straight back/)
    expect(polarSentence(polar(-6, 0), 63)).toMatch(/6 dB more goes straight back/)
  })
})

describe('lanes', () => {
  test('both sides alike are said once', () => {
    expect(lanesSentence({ strongM: [-6.3, 0, 6.3], weakM: [-2.9, 2.9] }, 63, 'm')).toBe(
      'At 63 Hz, on open ground, along the row in front, bass peaks in the middle and 6.3 m to each side; it is weakest 2.9 m to each side.',
    )
  })
  test('a delay shifts them, and none is said too', () => {
    expect(lanesSentence({ strongM: [], weakM: [-1, 4.2] }, 63, 'm')).toMatch(
      /bass is weakest 1 m to the left and 4\.2 m to the right\.$/,
    )
    expect(lanesSentence({ strongM: [0], weakM: [] }, 40, 'm')).toMatch(/no lane of weak bass/)
    expect(lanesSentence(null, 40, 'm')).toBe('')
  })
})

describe('lengths, levels and boxes', () => {
  test('a tape reads centimetres, or feet and half inches', () => {
    expect([1.349, 0, -0.62].map((lengthM) => tapeText(lengthM, 'm'))).toEqual(['1.35 m', '0.00 m', '−0.62 m'])
    expect([1.35, 0.3048, 0.6, -0.62].map((lengthM) => tapeText(lengthM, 'ft'))).toEqual([
      '4 ft 5 in',
      '1 ft 0 in',
      '1 ft 11.5 in',
      '−2 ft 0.5 in',
    ])
  })
  test('a level has its sign, and zero none', () => {
    expect([3.2, -1.6, -0.2].map((levelDb) => signedLevelText(levelDb))).toEqual(['+3 dB', '−2 dB', '0 dB'])
    expect([-1.5, 2, 0].map((levelDb) => signedLevelText(levelDb, 1))).toEqual(['−1.5 dB', '+2 dB', '0 dB'])
  })
  const line: SheetLine = { box: 2, xM: 0, zM: -1.35, turned: false, delayS: 0.004, polarity: -1, levelDb: 0 }
  test('a box tells what it has of its own', () => {
    expect(boxParts(line)).toEqual(['2: 4.0 ms', 'inverted'])
    expect(boxParts({ ...line, turned: true, levelDb: -1.5 })).toEqual(['2: 4.0 ms', 'inverted', 'turned', '−1.5 dB'])
    expect(boxParts({ ...line, box: 1, delayS: 0, polarity: 1 })).toEqual(['1'])
  })
  test('words that do not fit in a line go to the next', () => {
    const parts = ['2: 4.0 ms', 'inverted', 'turned']
    expect(partLines(parts, 40)).toEqual(['2: 4.0 ms, inverted, turned'])
    expect(partLines(parts, 20)).toEqual(['2: 4.0 ms, inverted,', 'turned'])
    expect(partLines(parts, 3)).toEqual(['2: 4.0 ms,', 'inverted,', 'turned'])
  })
  test('the setting before is named', () => {
    expect(settingText(set, 'm')).toBe('1.35 m, 3.9 ms, inverted')
    expect(settingText({ ...set, inverted: false, levelDb: -2 }, 'ft')).toBe('4 ft 5 in, 3.9 ms, same polarity, −2 dB')
  })
  test('the setting sheet is the same on the page and on paper', () => {
    const sheet: SheetLine[] = [
      { ...line, box: 1, zM: 0, delayS: 0, polarity: 1 },
      { ...line, turned: true },
    ]
    const rows = sheetRows(sheet, 'm')
    expect(rows).toEqual([
      ['1', '0.00 m', '0.00 m', 'the front', '0.0 ms', 'normal', '0 dB'],
      ['2', '0.00 m', '1.35 m', 'the rear', '4.0 ms', 'inverted', '0 dB'],
    ])
    const lines = sheetText(
      sheet,
      { title: 'two boxes', place: 'outdoors', link: 'https://example.org/?steer.v=1' },
      'm',
    ).split('\n')
    expect(lines[0]).toBe('two boxes')
    expect(lines[1]).toBe('Stands: outdoors.')
    for (const cell of sheetColumns) expect(lines[2]).toContain(cell)
    for (const cell of rows[1] ?? []) expect(lines[4]).toContain(cell)
    // Columns stand under each other.
    expect(lines[3]?.indexOf('normal')).toBe(lines[4]?.indexOf('inverted'))
    expect(lines.at(-2)).toMatch(/strap .* local codes/)
    expect(lines.at(-1)).toContain('https://example.org/?steer.v=1')
  })
})

describe('what cannot be', () => {
  test('is said with what is allowed, in the reader’s units', () => {
    expect(problemText({ kind: 'overlap', neededM: 0.66 }, 'pair', 'm')).toMatch(
      /they need 0\.66 m or more, front to front/,
    )
    expect(problemText({ kind: 'overlap', neededM: 0.66 }, 'row', 'ft')).toMatch(
      /they need 2 ft 2 in or more, middle to middle/,
    )
    expect(problemText({ kind: 'count', min: 2, max: 6 }, 'row', 'm')).toMatch(/takes 2 to 6 boxes/)
    expect(problemText({ kind: 'range', name: 'delayS', min: 0, max: 0.03 }, 'pair', 'm')).toMatch(
      /0\.0 ms to 30\.0 ms/,
    )
    expect(problemText({ kind: 'outside-hall' }, 'end-fire', 'm')).toMatch(/outside the hall/)
    expect(problemText({ kind: 'band' }, 'pair', 'm')).toMatch(/begin below where it ends/)
    expect(problemText({ kind: 'place', which: 'behind', why: 'in-a-box' }, 'pair', 'm')).toMatch(
      /quiet table would be inside a box/,
    )
  })
  test('a number of boxes that a link asks for, and a place that had to give way', () => {
    expect(countNotice(5, 'pair', 2)).toBe('count “5” (a pair, one behind the other (gradient): 2 boxes)')
    expect(countNotice(2, 'pair', 2)).toBe('')
    expect(movedNotice([])).toBe('')
    expect(movedNotice(['front', 'behind'])).toMatch(/^The listeners in front and the quiet table did not fit/)
  })
})

describe('how much of the band is covered comes first', () => {
  const band = { fromHz: 45, toHz: 90 }
  test('by the setting as it stands', () => {
    expect(coverTitle({ usable: { fromHz: 40, toHz: 95 } }, band)).toBe(
      'The bass behind goes down over all of your band, 45 to 90 Hz',
    )
    // An end that is nearer than a step of the curves is reached.
    expect(coverTitle({ usable: { fromHz: 45.9, toHz: 88 } }, band)).toMatch(/^The bass behind goes down over all/)
    expect(coverTitle({ usable: { fromHz: 67, toHz: 116 } }, band)).toBe(
      'This setting covers 67 to 90 of your 45 to 90 Hz',
    )
    expect(coverTitle({ usable: { fromHz: 100, toHz: 150 } }, band)).toBe(
      'This setting covers nothing of your 45 to 90 Hz; it works from 100 to 150 Hz',
    )
    expect(coverTitle({ usable: null }, band)).toBe('This setting covers nothing of your 45 to 90 Hz')
  })
  test('by no setting that was tried', () => {
    const part = { whole: false, part: { fromHz: 67.3, toHz: 90 } }
    expect(coverTitle({ usable: null }, band, part)).toBe('No setting covers 45 to 90 Hz; the best covers 67 to 90')
    expect(coverTitle({ usable: null }, band, { whole: false, part: null })).toBe(
      'No setting covers any of 45 to 90 Hz',
    )
  })
})

describe('the suggestion', () => {
  const textbook = { set, merits }
  const best = {
    set: { ...set, spacingM: 1.1 },
    merits: { ...merits, rejectionDb: 21.2, frontLossDb: 2.1, usable: { fromHz: 53, toHz: 119 } },
  }
  const suggestion: SteerSuggestion = {
    textbook,
    best,
    helps: true,
    widest: textbook,
    covers: { whole: true, part: { fromHz: 40, toHz: 100 } },
    tried: 12345,
  }
  const question = {
    surroundings: { kind: 'outdoors' as const, floor: 'hard' as const },
    band: { fromHz: 40, toHz: 100 },
    set,
  }

  test('says what it won and what it pays', () => {
    expect(suggestionSentence(suggestion, question)).toBe(
      'The one that keeps most does not cover all of 40 to 100 Hz; the one that covers most does. 12,345 settings tried. The best keeps more than 20 dB from the back; by the book it is 14 dB. It pays with 1 dB in front. It works from 53 to 119 Hz, by the book from 38 to 92 Hz.',
    )
  })
  test('begins with a band that no setting covers, or that another one covers', () => {
    const covers = { whole: false, part: { fromHz: 53, toHz: 100 } }
    expect(suggestionSentence({ ...suggestion, widest: best, covers }, question)).toMatch(
      /^No setting covers 40 to 100 Hz; the best covers 53 to 100\. 12,345 settings tried\./,
    )
    const other = { ...best, set: { ...best.set, spacingM: 0.9 } }
    expect(suggestionSentence({ ...suggestion, widest: other }, question)).toMatch(
      /^The one that keeps most does not cover all of 40 to 100 Hz; the one that covers most does\./,
    )
  })
  test('does not praise itself when the book is as good', () => {
    expect(suggestionSentence({ ...suggestion, best: textbook }, question)).toMatch(
      /None beats the setting by the book/,
    )
  })
  test('says that nothing helps, and why, for what stands round', () => {
    const weak = { ...best, merits: { ...best.merits, rejectionDb: 3.4 } }
    const none = { ...suggestion, best: weak, helps: false }
    expect(suggestionSentence(none, question)).toMatch(
      /Nothing helps here: the best keeps 3 dB .* Try moving the table or the boxes instead\.$/,
    )
    expect(suggestionSentence(none, { ...question, surroundings: { kind: 'wall', gapM: 1, floor: 'hard' } })).toMatch(
      /The wall doubles what still goes to the back/,
    )
    expect(suggestionSentence(none, { ...question, set: { ...set, arrangement: 'row' } })).toMatch(/side by side/)
  })
})
