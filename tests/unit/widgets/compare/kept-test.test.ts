import { afterEach, beforeEach, describe, expect, test } from 'vitest'
import type { SweptFinding } from '../../../../src/engine/questions/compare/sweep-terms.ts'
import { withSwept } from '../../../../src/widgets/compare/kept-sweep.ts'
import {
  areWallsEntered,
  boxOrHallQuestionOf,
  changeTest,
  emptyTest,
  isDone,
  keptTest,
  pairOf,
  questionOf,
  readTest,
  withPart,
  writeTest,
} from '../../../../src/widgets/compare/kept-test.ts'
import { entered, of, swept, take, wholeTest } from './test-fixture.ts'

const everyFinding: SweptFinding[] = [
  { kind: 'one-sweep' },
  { kind: 'cut-short', missingS: 1.2 },
  { kind: 'clipped', fromS: 1, toS: 1.1, sampleCount: 12 },
  { kind: 'gap', sweep: 1, fromS: 2, toS: 2.02 },
  { kind: 'unsteady-noise', sweep: 2, fromS: 3, toS: 4, excessDb: 8 },
  { kind: 'clock-drift', driftPpm: -53 },
  { kind: 'level-changed', changeDb: 1.2 },
  { kind: 'merged', gapS: 0.0005, levelDb: -6 },
  { kind: 'too-close', gapS: 0.0015 },
  { kind: 'coarse', bits: 8 },
  { kind: 'file-cut-short' },
]
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
    ['a newer page’s', '{"version":4}', 'newer version'],
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

  test('a test of before there were files of microphones is read, without any; one of before there were sweeps too', () => {
    const { microphones, ...older } = wholeTest()
    expect(microphones).toEqual({ front: null, behind: null })
    expect(readTest(JSON.stringify({ ...older, version: 1 }))).toEqual(wholeTest())
    expect(readTest(JSON.stringify({ ...older, microphones, version: 2 }))).toEqual(wholeTest())
  })

  test('its sweeps are kept, asked with what is known of the microphones, and read back with every finding', () => {
    const kept = wholeTest()
    expect(boxOrHallQuestionOf(kept)).toBeUndefined()
    kept.sweep = withSwept(undefined, { front: swept('a.wav') })
    expect(boxOrHallQuestionOf(kept)).toBeUndefined()
    kept.sweep = withSwept(kept.sweep, { behind: swept('b.wav', everyFinding) })
    kept.steps.match = kept.steps.sound
    kept.microphones.front = { name: 'f.txt', frequenciesHz: [20, 20000], levelsDb: [-1, 2] }
    expect(readTest(writeTest(kept))).toEqual(kept)
    expect(boxOrHallQuestionOf(kept)).toMatchObject({
      front: { validFromHz: 1122 },
      behind: { findings: everyFinding },
      match: pairOf(kept.steps.match),
      microphones: { front: { levelsDb: [-1, 2] } },
    })
    expect(boxOrHallQuestionOf(kept)?.front).not.toHaveProperty('name')
    const wrong = JSON.parse(writeTest(kept))
    wrong.sweep.behind.findings.push({ kind: 'nobody knows' })
    expect(readTest(JSON.stringify(wrong))).toContain('not a whole test')
  })

  test('the truth of practice sweeps goes with the first recording of one’s own', () => {
    const truth = { boxTrebleDb: 28, wholeTrebleDb: 12, driftPpm: -53 }
    const practised = withSwept(undefined, { front: swept('p'), behind: swept('p') }, truth)
    expect(practised.practice).toEqual(truth)
    const own = withSwept(practised, { behind: swept('b.wav') })
    expect(own).toMatchObject({ practice: null, front: { name: 'p' }, behind: { name: 'b.wav' } })
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

  test('two pages, one with sweeps and one with a step, lose neither', async () => {
    const { quiet } = wholeTest().steps
    const measured = { front: swept('a.wav'), behind: swept('b.wav') }
    await Promise.all([
      changeTest(emptyTest(), (before) => ({ ...before, sweep: withSwept(before.sweep, measured) })),
      changeTest(emptyTest(), (before) => ({ ...before, steps: { ...before.steps, quiet } })),
    ])
    expect(keptTest().test).toMatchObject({ steps: { quiet }, sweep: { front: { name: 'a.wav' } } })
  })

  test('what cannot be read is set aside and told', async () => {
    store.set('round-the-back.compare', '{"version":1}')
    expect(keptTest().problem).toContain('could not be read')
    await changeTest(emptyTest(), (before) => before)
    expect(store.get('round-the-back.compare.unread.1')).toBe('{"version":1}')
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
