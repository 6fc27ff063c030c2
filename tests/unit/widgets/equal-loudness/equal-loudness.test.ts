import { describe, expect, test } from 'vitest'
import { contourLevelDb, loudnessLevelPhon } from '../../../../src/acoustics/index.ts'
import { defaultState, readLink, writeLink } from '../../../../src/state/share-link.ts'
import {
  contourFrequenciesHz,
  contourParts,
  thresholdPhon,
  toneLevelRangeDb,
} from '../../../../src/widgets/equal-loudness/contour-curves.ts'
import { dropSentence, toneSentence } from '../../../../src/widgets/equal-loudness/describe-equal-loudness.ts'
import { bassTonesHz, equalLoudnessLink } from '../../../../src/widgets/equal-loudness/equal-loudness-link.ts'
import { levelDrop } from '../../../../src/widgets/equal-loudness/level-drop.ts'
import { fractionWords, toneSonesText } from '../../../../src/words/loudness.ts'

describe('the range of the tone', () => {
  test.each(contourFrequenciesHz.map((frequencyHz) => [frequencyHz]))(
    'at %d Hz stays where the standard has contours',
    (frequencyHz) => {
      const { min, max } = toneLevelRangeDb(frequencyHz)
      expect(loudnessLevelPhon(min, frequencyHz)).toBeGreaterThanOrEqual(thresholdPhon - 0.001)
      // One dB less would not be heard, one dB more is beyond the standard.
      expect(loudnessLevelPhon(min - 1, frequencyHz)).toBeLessThan(thresholdPhon)
      const loudest = frequencyHz > 4000 ? 80 : 90
      expect(loudnessLevelPhon(max, frequencyHz)).toBeLessThanOrEqual(loudest + 0.001)
      expect(loudnessLevelPhon(max + 1, frequencyHz)).toBeGreaterThan(loudest)
    },
  )
})

describe('a contour as a line', () => {
  test('runs through the standard’s frequencies', () => {
    const { stated, carriedOn } = contourParts(60)
    expect(carriedOn).toEqual([])
    for (const frequencyHz of contourFrequenciesHz)
      expect(stated.find(({ x }) => x === frequencyHz)?.y).toBe(contourLevelDb(60, frequencyHz))
  })
  test('is told apart where the standard does not state it', () => {
    expect(contourParts(19).stated).toEqual([])
    const loud = contourParts(85)
    expect(loud.stated.at(-1)?.x).toBe(4000)
    expect(loud.carriedOn[0]?.x).toBe(4000)
  })
})

describe('10 dB less', () => {
  test('takes exactly 10 phon at 1 kHz, and half the sones from 50 phon up', () => {
    for (const phon of [50, 60, 75, 90]) {
      const drop = levelDrop(phon, 1000)
      expect(drop.phon.after).toBeCloseTo(phon - 10, 9)
      expect(drop.sones.after / drop.sones.before).toBeCloseTo(0.5, 9)
    }
  })
  test('is the bigger step at every bass tone and every loudness level', () => {
    for (const bassHz of bassTonesHz)
      for (let phon = 20; phon <= 90; phon += 5) {
        const [bass, reference] = [levelDrop(phon, bassHz), levelDrop(phon, 1000)]
        expect(bass.phon.after).toBeLessThan(reference.phon.after)
        expect(bass.sones.after).toBeLessThan(reference.sones.after)
      }
  })
})

describe('the sentences', () => {
  test('say what a tone is as loud as', () => {
    expect(toneSentence(50, 75, loudnessLevelPhon(75, 50))).toBe(
      'A tone of 50 Hz at 75 dB is as loud as 36 dB at 1 kHz (36 phon).',
    )
    expect(toneSentence(1000, 60, 60)).toMatch(/^A tone of 1 kHz at 60 dB is 60 phon\./)
    expect(toneSentence(3150, -6, thresholdPhon)).toBe(
      'A tone of 3.15 kHz at −6 dB is at the threshold of hearing: hardly to be heard at all.',
    )
    expect(toneSentence(50, 60, loudnessLevelPhon(60, 50))).toContain('for information only')
  })
  test('say what the drop does to both', () => {
    expect(dropSentence(levelDrop(60, 50), levelDrop(60, 1000))).toBe(
      '10 dB less: at 50 Hz from 60 to 43 phon, about a third as loud; at 1 kHz from 60 to 50 phon, half as loud. The bass loses more.',
    )
    // Near the threshold, where the contours are for information only, the formula turns it round: 6 phon are left against 5.
    expect(dropSentence(levelDrop(15, 50), levelDrop(15, 1000))).toBe(
      '10 dB less: at 50 Hz from 15 to 6 phon, about 6 % as loud; at 1 kHz from 15 to 5 phon, about 4 % as loud. This near to the threshold of hearing the bass does not lose more.',
    )
    expect(dropSentence(levelDrop(8, 50), levelDrop(8, 1000))).toBe(
      '10 dB less: at 50 Hz from 8 phon to nothing that can be heard; at 1 kHz from 8 phon to nothing that can be heard.',
    )
    expect(dropSentence(levelDrop(2.4, 50), levelDrop(2.4, 1000))).toContain('threshold of hearing')
  })
  test('round a share to what an ear can use', () => {
    expect([0.5, 0.318, 0.253, 0.2, 0.1, 0.42, 0.037, 0.004].map(fractionWords)).toEqual([
      'half',
      'about a third',
      'about a quarter',
      'a fifth',
      'a tenth',
      'about 40 %',
      'about 4 %',
      'less than 1 %',
    ])
    expect([4, 1.2834, 0.034, 0.001, 32].map(toneSonesText)).toEqual(['4', '1.3', '0.034', 'under 0.01', '32'])
  })
})

test('the link keeps the tone and says what it dropped', () => {
  const state = { ...defaultState(equalLoudnessLink), frequencyHz: 3150, levelDb: 40, bassHz: 80 }
  const written = writeLink(equalLoudnessLink, state, new URLSearchParams())
  expect(readLink(equalLoudnessLink, written)).toMatchObject({ state, dropped: [] })
  const bad = readLink(
    equalLoudnessLink,
    new URLSearchParams('contour.frequencyHz=51&contour.levelDb=400&contour.bassHz=63'),
  )
  expect(bad.state).toEqual({ ...defaultState(equalLoudnessLink), bassHz: 63 })
  expect(bad.dropped).toHaveLength(2)
})
