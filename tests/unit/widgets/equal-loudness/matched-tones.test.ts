import { describe, expect, test } from 'vitest'
import { contourLevelDb } from '../../../../src/acoustics/index.ts'
import { ceilingDb } from '../../../../src/sound/ceiling.ts'
import {
  bassMatchSentence,
  matchSentence,
  nextStepSentence,
} from '../../../../src/widgets/equal-loudness/describe-match.ts'
import {
  changeMatchedTones,
  clearMatchedTones,
  type MatchedTones,
  matchedTonesKey,
  matchRangeDb,
  matchStartDb,
  readMatchedTones,
  referencePeakDb,
  referencePhonRange,
  type ToneStore,
  testOrderHz,
  testTonesHz,
} from '../../../../src/widgets/equal-loudness/matched-tones.ts'

/** A device's storage. */
function storage(first: Record<string, string> = {}) {
  const kept = new Map(Object.entries(first))
  return {
    kept,
    getItem: (key: string) => kept.get(key) ?? null,
    setItem: (key: string, text: string) => void kept.set(key, text),
    removeItem: (key: string) => void kept.delete(key),
  }
}
const keepMatchedTones = async (results: MatchedTones, store: ToneStore) =>
  (await changeMatchedTones(() => results, store)).problem
const results = { referencePhon: 65, tones: [{ frequencyHz: 63 as const, differenceDb: 24 }] }

describe('what the listening test keeps on this device', () => {
  test('comes back as it was', async () => {
    const store = storage()
    expect(readMatchedTones(store)).toEqual({ kept: { referencePhon: 60, tones: [] }, problem: '', writable: true })
    expect(await keepMatchedTones(results, store)).toBe('')
    expect(readMatchedTones(store).kept).toEqual(results)
    expect(await clearMatchedTones(store)).toBe('')
    expect(store.kept.size).toBe(0)
  })
  test.each([
    ['no JSON', '{'],
    ['a newer version', JSON.stringify({ version: 2, referencePhon: 60, tones: [] })],
    [
      'an unknown tone',
      JSON.stringify({ version: 1, referencePhon: 60, tones: [{ frequencyHz: 64, differenceDb: 0 }] }),
    ],
    [
      'a level out of range',
      JSON.stringify({ version: 1, referencePhon: 60, tones: [{ frequencyHz: 63, differenceDb: 99 }] }),
    ],
    [
      'a tone twice',
      JSON.stringify({
        version: 1,
        referencePhon: 60,
        tones: [1, 2].map((differenceDb) => ({ frequencyHz: 63, differenceDb })),
      }),
    ],
  ])('is left as it is and told of when it is %s, until it is cleared', async (_, text) => {
    const store = storage({ [matchedTonesKey]: text })
    const { kept, problem, writable } = readMatchedTones(store)
    expect([kept.tones, writable]).toEqual([[], false])
    expect(problem).toContain('cannot be read')
    expect(await keepMatchedTones(results, store)).toBe(problem)
    expect(store.kept.get(matchedTonesKey)).toBe(text)
    await clearMatchedTones(store)
    expect(await keepMatchedTones(results, store)).toBe('')
  })
  test('is not kept where the device refuses, and nothing is thrown', async () => {
    const refuse = () => {
      throw new DOMException('blocked', 'SecurityError')
    }
    const blocked = { getItem: refuse, setItem: refuse, removeItem: refuse }
    expect(readMatchedTones(blocked).problem).toContain('until you leave the page')
    expect(await keepMatchedTones(results, blocked)).toContain('until you leave the page')
    expect(await clearMatchedTones(blocked)).not.toBe('')
    const full = { ...storage(), setItem: refuse }
    expect(await keepMatchedTones(results, full)).toContain('no room')
  })
  test('is changed from what is kept, not from what a tab believes', async () => {
    const store = storage()
    const tone = (frequencyHz: 63 | 125, differenceDb: number) => ({ frequencyHz, differenceDb })
    await changeMatchedTones((kept) => ({ ...kept, tones: [...kept.tones, tone(63, 24)] }), store)
    const { kept } = await changeMatchedTones((kept) => ({ ...kept, tones: [...kept.tones, tone(125, 12)] }), store)
    expect(kept.tones).toEqual([tone(63, 24), tone(125, 12)])
    expect(readMatchedTones(store).kept).toEqual(kept)
  })
})

describe('the range of a match', () => {
  test.each(testTonesHz.map((frequencyHz) => [frequencyHz]))(
    'at %d Hz starts too soft, and can be reached',
    (frequencyHz) => {
      const { min, max } = matchRangeDb(frequencyHz)
      for (let phon = referencePhonRange.min; phon <= referencePhonRange.max; phon += 5) {
        const asked = contourLevelDb(phon, frequencyHz) - phon
        expect(asked).toBeGreaterThan(matchStartDb)
        // At 40 Hz and 40 phon the standard asks for 42.7 dB, more than the tone may be given.
        if (!(frequencyHz === 40 && phon === 40)) expect(asked).toBeLessThan(max)
      }
      expect(matchStartDb).toBeGreaterThan(min)
    },
  )
  test('keeps the strongest tone under the ceiling and lets no treble tone become much louder than it should', () => {
    for (const frequencyHz of testTonesHz)
      expect(referencePeakDb + matchRangeDb(frequencyHz).max).toBeLessThan(ceilingDb)
    for (const frequencyHz of [500, 2000, 4000]) expect(matchRangeDb(frequencyHz).max).toBeLessThanOrEqual(16)
  })
  test('every tone has its turn', () => {
    expect(testOrderHz.toSorted((a, b) => a - b)).toEqual([...testTonesHz])
  })
})

describe('the results in words', () => {
  test('say what was needed and what the standard says', () => {
    expect(matchSentence({ frequencyHz: 63, differenceDb: 18, standardDb: 25.8 })).toBe(
      'At 63 Hz you needed 18 dB more than at 1 kHz; the standard says 26 dB more.',
    )
    expect(matchSentence({ frequencyHz: 4000, differenceDb: -4, standardDb: -2.3 })).toBe(
      'At 4 kHz you needed 4 dB less than at 1 kHz; the standard says 2 dB less.',
    )
    expect(matchSentence({ frequencyHz: 2000, differenceDb: 0, standardDb: 0.02 })).toBe(
      'At 2 kHz you needed the same level as at 1 kHz; the standard says the same level.',
    )
  })
  test('sum up the bass without blaming the ears', () => {
    const tone = (frequencyHz: number, missDb: number) => ({ frequencyHz, differenceDb: 20 + missDb, standardDb: 20 })
    expect(bassMatchSentence([tone(4000, 9)])).toBe('')
    expect(bassMatchSentence([tone(63, 2)])).toBe('In the bass (63 Hz) you are within 3 dB of the standard.')
    const more = bassMatchSentence([tone(63, 8), tone(125, 4), tone(4000, -20)])
    expect(more).toMatch(
      /^In the bass \(2 tones\) you needed 6 dB more than the standard on average\. A device that is weak/,
    )
    expect(more).toContain('cannot tell these from your ears')
    expect(bassMatchSentence([tone(63, -8)])).toContain('A device that lifts the bass')
  })
  test('say how far the test is', () => {
    expect(nextStepSentence(0, 8)).toContain('Nothing matched yet')
    expect(nextStepSentence(3, 8)).toBe('3 of 8 tones matched.')
    expect(nextStepSentence(8, 8)).toBe('All 8 tones matched.')
  })
})
