import { afterEach, beforeEach, describe, expect, test } from 'vitest'
import type { LevelSource, Take } from '../../../../src/engine/questions/compare/compare-terms.ts'
import { heardBands } from '../../../../src/engine/scene/third-octaves.ts'
import {
  areWallsEntered,
  changeTest,
  emptyTest,
  isDone,
  keptTest,
  pairOf,
  questionOf,
  readTest,
  skippedStep,
  withBoth,
  withPart,
  writeTest,
} from '../../../../src/widgets/compare/kept-test.ts'

const level = { levelDb: -30, errorDb: 0.2, freedom: 20 }
const take = (channelCount: 1 | 2): Take => ({
  sampleRateHz: 48000,
  durationS: 20,
  keptS: 18,
  channels: Array.from({ length: channelCount }, () => ({
    levels: heardBands.map((_, band) => (band === 0 ? null : level)),
    detail: [level, null],
    aWeightedDb: -25,
    cWeightedDb: null,
    peak: 0.4,
    confidence: { widest: { halfDb: 0.4, nominalHz: 40 }, isEnough: true, furtherS: 0 },
  })),
  paired: channelCount === 2 ? heardBands.map(() => level) : null,
  faults: [{ kind: 'talking', channel: 0, fromS: 1, toS: 2, amountDb: 4 }],
  clippedSamples: 0,
})
const of = (given: Take, channel: number): LevelSource => ({ kind: 'take', take: given, channel })
const entered: LevelSource = { kind: 'entered', levelsDb: heardBands.map(() => 60) }

const wholeTest = () => {
  const both = take(2)
  const test = emptyTest()
  test.steps.match = skippedStep()
  test.steps.quiet = withPart(withPart(test.steps.quiet, 'front', 'a.wav', of(take(1), 0)), 'behind', 'b.wav', entered)
  test.steps.sound = withBoth('both.wav', of(both, 0), of(both, 1))
  return test
}

describe('a test', () => {
  test('keeps a take of both places once, and both of two', () => {
    const { steps } = wholeTest()
    expect(steps.sound.takes).toHaveLength(1)
    expect(steps.quiet.takes).toHaveLength(1)
    const anew = withPart(steps.sound, 'behind', 'c.wav', of(take(1), 0))
    expect(anew.takes).toHaveLength(2)
    expect(anew.behind).toMatchObject({ take: 1, channel: 0, name: 'c.wav' })
    // Nobody needs the first any more.
    expect(withPart(anew, 'front', 'd.wav', entered).takes).toHaveLength(1)
  })

  test('is done where both places were measured, or it was passed over', () => {
    const { steps } = wholeTest()
    expect(isDone(steps.match)).toBe(true)
    expect(pairOf(steps.match)).toBeUndefined()
    expect(isDone(withPart(emptyTest().steps.quiet, 'front', 'a.wav', entered))).toBe(false)
    expect(pairOf(steps.sound)).toMatchObject({ front: { channel: 0 }, behind: { channel: 1 } })
  })

  test('asks with what was entered, and with walls only where the reader has said so', () => {
    const kept = wholeTest()
    expect(questionOf(emptyTest(), 85)).toBeUndefined()
    expect(questionOf(kept, 85)).toMatchObject({
      wallsAreEntered: false,
      geometry: { front: { distanceM: 2.5 }, behind: { distanceM: 2.5 } },
    })
    kept.setUp = { ...kept.setUp, walls: 'some', wallBehindM: 0.7, boxDepthM: 0.5 }
    expect(questionOf(kept, 85)).toMatchObject({
      wallsAreEntered: true,
      geometry: { boxDepthM: 0.5, behind: { wallBeyondM: 0.7 } },
    })
    kept.setUp = { ...kept.setUp, walls: 'none' }
    expect(questionOf(kept, 85)?.geometry?.behind).toEqual({ distanceM: 2.5 })
    expect(areWallsEntered({ ...kept.setUp, walls: 'unknown' })).toBe(false)
    expect(areWallsEntered({ ...kept.setUp, walls: 'some', wallBehindM: null })).toBe(false)
  })

  test('written and read back is the same', () => {
    const kept = wholeTest()
    expect(readTest(writeTest(kept))).toEqual(kept)
  })

  test.each([
    ['no JSON', 'frequencyHz,frontDb', 'no JSON'],
    ['something else', '{"rigs":[]}', 'which version'],
    ['a newer page’s', '{"version":3}', 'newer version'],
    ['half a test', '{"version":1,"steps":{}}', 'not a whole test'],
    ['too long', ' '.repeat(3_000_001), 'too long'],
  ])('a file that is %s is refused in words', (_, text, words) => {
    expect(readTest(text)).toContain(words)
  })

  test('the files of the microphones are kept, and asked with', () => {
    const kept = wholeTest()
    expect(questionOf(kept, 85)?.microphones).toBeUndefined()
    kept.microphones.behind = { name: 'b.txt', frequenciesHz: [20, 20000], levelsDb: [-1, 2] }
    expect(readTest(writeTest(kept))).toEqual(kept)
    expect(questionOf(kept, 85)?.microphones).toEqual({ behind: { frequenciesHz: [20, 20000], levelsDb: [-1, 2] } })
    for (const levelsDb of [[1], [1, 2, 3]]) {
      const uneven = {
        ...kept,
        microphones: { front: null, behind: { name: '', frequenciesHz: [20, 2000], levelsDb } },
      }
      expect(readTest(JSON.stringify(uneven))).toContain('not a whole test')
    }
    const falling = { name: '', frequenciesHz: [2000, 20], levelsDb: [1, 2] }
    expect(readTest(JSON.stringify({ ...kept, microphones: { front: falling, behind: null } }))).toContain('rising')
  })

  test('a test of before there were files of microphones is read, without any', () => {
    const { microphones, ...older } = wholeTest()
    expect(microphones).toEqual({ front: null, behind: null })
    expect(readTest(JSON.stringify({ ...older, version: 1 }))).toEqual(wholeTest())
  })

  test('a file with a level that cannot be, or a recording that is not in it, is refused with its place', () => {
    const wrong = JSON.parse(writeTest(wholeTest()))
    wrong.steps.sound.takes[0].channels[0].peak = 'loud'
    expect(readTest(JSON.stringify(wrong))).toContain('peak')
    const lacking = wholeTest()
    lacking.steps.sound.takes = []
    expect(readTest(writeTest(lacking))).toContain('not in it')
  })
})

describe('what the device keeps', () => {
  const store = new Map<string, string>()
  beforeEach(() => {
    // The number of changes goes on: turns are told by it.
    store.delete('round-the-back.compare')
    Object.assign(globalThis, {
      localStorage: {
        getItem: (key: string) => store.get(key) ?? null,
        setItem: (key: string, text: string) => void store.set(key, text),
      },
    })
  })
  afterEach(() => {
    Reflect.deleteProperty(globalThis, 'localStorage')
  })

  test('two pages that each measure a step lose neither', async () => {
    const shown = emptyTest()
    const { quiet, sound } = wholeTest().steps
    await Promise.all([
      changeTest(shown, (before) => ({ ...before, steps: { ...before.steps, quiet } })),
      changeTest(shown, (before) => ({ ...before, steps: { ...before.steps, sound } })),
    ])
    expect(keptTest().test.steps).toMatchObject({ quiet, sound })
  })

  test('what cannot be read is set aside and told', async () => {
    store.set('round-the-back.compare', '{"version":1}')
    expect(keptTest().problem).toContain('could not be read')
    await changeTest(emptyTest(), (before) => before)
    expect(store.get('round-the-back.compare.unread')).toBe('{"version":1}')
    expect(keptTest()).toEqual({ test: emptyTest(), problem: '' })
  })

  test('a device that keeps nothing says so, and the test goes on', async () => {
    Object.assign(globalThis.localStorage, {
      setItem: () => {
        throw new Error('full')
      },
    })
    const { test: changed, problem } = await changeTest(emptyTest(), () => wholeTest())
    expect(changed).toEqual(wholeTest())
    expect(problem).toContain('keeps nothing')
  })
})
