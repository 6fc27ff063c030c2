import { describe, expect, test } from 'vitest'
import { bassShare, loudnessBands, zwickerLoudness } from '../../../../src/acoustics/index.ts'
import type { Heard } from '../../../../src/engine/scene/heard.ts'
import { defaultState, readLink, writeLink } from '../../../../src/state/share-link.ts'
import { stackSentence } from '../../../../src/widgets/loudness-stack/describe-loudness-stack.ts'
import {
  bassEndBark,
  lineAbove,
  lineAt,
  lineBelow,
  type PatternPoint,
  patternLine,
  sonesByBark,
} from '../../../../src/widgets/loudness-stack/loudness-pattern.ts'
import { loudnessStackLink } from '../../../../src/widgets/loudness-stack/loudness-stack-link.ts'
import { namePlaces } from '../../../../src/widgets/loudness-stack/name-places.ts'

const pink = zwickerLoudness(
  loudnessBands.map(() => 60),
  'free',
)
/** Area under a line by trapezia. */
const areaOf = (points: PatternPoint[]) =>
  points.reduce((sum, { x, y }, index) => {
    const before = points[index - 1]
    return before ? sum + ((x - before.x) * (y + before.y)) / 2 : sum
  }, 0)

describe('the pattern as a line', () => {
  test('encloses the loudness, and its bass part the bass share', () => {
    const line = patternLine(pink.specific)
    // 0.2 %: slopes bend within a step of 0.1 Bark.
    expect(Math.abs(areaOf(line) / pink.sones - 1)).toBeLessThan(0.002)
    expect(Math.abs(areaOf(lineBelow(line, bassEndBark)) / areaOf(line) - bassShare(pink.specific))).toBeLessThan(0.001)
  })
  test('encloses 100 when drawn as percent of the whole', () => {
    expect(Math.abs(areaOf(patternLine(pink.specific, 100 / pink.sones)) - 100)).toBeLessThan(0.2)
  })
  test('jumps up at the lower end of a step and slopes down', () => {
    expect(patternLine([1, 1, 3, 2])).toEqual([
      { x: 0, y: 0 },
      { x: 0, y: 1 },
      { x: 0.1, y: 1 },
      { x: 0.2, y: 1 },
      { x: 0.2, y: 3 },
      { x: 0.3, y: 3 },
      { x: 0.4, y: 2 },
    ])
  })
  test('is cut and read between its points', () => {
    const line = patternLine([1, 1, 3, 2])
    expect(lineAt(line, 0.35)).toBeCloseTo(2.5, 9)
    const [below, above] = [lineBelow(line, 0.35), lineAbove(line, 0.35)]
    expect(below.at(-1)).toEqual(above[0])
    expect(areaOf(below) + areaOf(above)).toBeCloseTo(areaOf(line), 9)
    expect(lineBelow(line, Number.POSITIVE_INFINITY)).toBe(line)
  })
  test('falls into 24 parts that make the whole', () => {
    const parts = sonesByBark(pink.specific)
    expect(parts).toHaveLength(24)
    expect(Math.abs(parts.reduce((sum, part) => sum + part, 0) / pink.sones - 1)).toBeLessThan(0.002)
  })
})

describe('the names of the lines', () => {
  const flat = (value: number) => patternLine(new Array(240).fill(value))
  test('stand over the higher line and under the lower one', () => {
    const { front, behind } = namePlaces(flat(4), flat(2), 5, false)
    expect([front.y, front.shift < 0, behind.y, behind.shift > 0]).toEqual([4, true, 2, true])
    const turned = namePlaces(flat(2), flat(4), 5, false)
    expect([turned.front.shift > 0, turned.behind.shift < 0]).toEqual([true, true])
  })
  test('keep off the axis, and beside the bass where that is the higher one', () => {
    expect(namePlaces(flat(4), flat(0.2), 5, false).behind.shift).toBeLessThan(0)
    expect(namePlaces(flat(4), flat(4), 5, true).behind.anchor).toBe('start')
  })
})

describe('share and amount in one sentence', () => {
  const heard = (sones: number, bassSones: number): Heard => ({
    aWeightedDb: 80,
    cWeightedDb: 85,
    sones,
    phons: 90,
    bassSones,
    bassShare: sones === 0 ? 0 : bassSones / sones,
  })
  const front = heard(88, 9.9)
  test.each([
    [
      'less bass, larger share',
      heard(34, 8.5),
      'Behind the bass makes 25 % of the loudness, in front 11 %; its own loudness is 8.5 sones behind, 9.9 in front: not more bass, but more of what is left.',
    ],
    [
      'the same place',
      front,
      'Behind the bass makes 11 % of the loudness, as in front; its own loudness is 9.9 sones in both places.',
    ],
    ['really more bass', heard(70, 14), ': more bass, and more of what is left.'],
    ['more bass in no less sound', heard(88, 14), ': more bass, and more of the whole.'],
    ['less of both', heard(88, 5), ': less of the whole.'],
    ['all down alike', heard(44, 4.95), ': less bass, and as much less of all the rest.'],
    ['all up alike', heard(176, 19.8), ': more bass, and more of all the rest.'],
    ['more bass in much more sound', heard(176, 14), ': more bass, but less of the whole.'],
  ])('%s', (_, here, words) => {
    expect(stackSentence({ here, front }, 180)).toContain(words)
  })
  test('names the place, and says when there is nothing to compare', () => {
    expect(stackSentence({ here: heard(40, 8), front }, 90)).toMatch(/^Beside the bass .* sones beside, /)
    expect(stackSentence({ here: heard(40, 8), front }, 30)).toMatch(/^Here the bass .* sones here, /)
    expect(stackSentence({ here: heard(0, 0), front }, 180)).toBe('At this level one of the two cannot be heard.')
  })
})

test('the link keeps the place and says what it dropped', () => {
  const link = loudnessStackLink(['one', 'two'])
  const state = { ...defaultState(link), rig: 'two', angleDeg: -90, view: 'share' as const, referenceDbA: 100 }
  const written = writeLink(link, state, new URLSearchParams())
  expect(readLink(link, written)).toMatchObject({ state, dropped: [] })
  const bad = readLink(link, new URLSearchParams('stack.rig=three&stack.distanceM=9&stack.angleDeg=45'))
  expect(bad.state).toEqual({ ...defaultState(link), angleDeg: 45 })
  expect(bad.dropped).toHaveLength(2)
})
