import { describe, expect, test } from 'vitest'
import {
  frequencyOfMouthHz,
  type HornAnswer,
  hornAnswer,
  hornCurve,
} from '../../../../src/engine/questions/horn/horn.ts'
import { readLink, writeLink } from '../../../../src/state/share-link.ts'
import { nearestIndex } from '../../../../src/widgets/controls/nearest-index.ts'
import { allRoundDeg, beamwidthCurve, beamwidthOnCurve, chartHz } from '../../../../src/widgets/horn/beamwidth-curve.ts'
import { guessHornVerdict } from '../../../../src/widgets/horn/describe-guess-horn.ts'
import { beamSentence, beamwidthText, holdSentence } from '../../../../src/widgets/horn/describe-horn.ts'
import { guessHornLink } from '../../../../src/widgets/horn/guess-horn-link.ts'
import { type HornState, hornFrequenciesHz, hornLink, mouthStepsM } from '../../../../src/widgets/horn/horn-link.ts'
import { hornOutline, straightWallDepthM } from '../../../../src/widgets/horn/horn-outline.ts'
import { aboutFrequencyText } from '../../../../src/words/frequencies.ts'
import { nearLengthText } from '../../../../src/words/lengths.ts'

const answer = (change: Partial<HornAnswer>): HornAnswer => ({
  curve: { coverageDeg: 90, points: [], letsGoAt: 0.86, waist: null, reopens: null },
  letsGoHz: 1129,
  ruleHz: 1085.5,
  bassMouthM: 4.89,
  bassMouthByRuleM: 4.7,
  mouthOverWavelength: 0.379,
  beamwidthDeg: null,
  patternDb: [-1.8, 0, -1.8],
  bandBeamwidthsDeg: [],
  besideDb: [],
  ...change,
})

describe('a horn in words', () => {
  test('says down to where it holds, the rule beside it, and what the bass would ask for', () => {
    expect(holdSentence(answer({}), 0.26, 90, 'm')).toBe(
      'This mouth, 26 cm wide, holds 90° down to about 1.1 kHz; the rule of thumb says 1.1 kHz. ' +
        'To hold it at 60 Hz the mouth would have to be 4.9 m wide.',
    )
    expect(holdSentence(answer({}), 0.26, 90, 'ft')).toContain('This mouth, 10 in wide')
    expect(holdSentence(answer({}), 0.26, 90, 'ft')).toContain('16 ft wide')
  })
  test('calls a mouth that takes in the bass what it is', () => {
    expect(holdSentence(answer({ letsGoHz: 49, ruleHz: 47 }), 6, 90, 'm')).toMatch(/bass at 60 Hz, .* a room\.$/)
  })
  test('says where a wide horn opens once more', () => {
    const reopens = { mouthOverWavelength: 2.5, beamwidthDeg: null }
    const wide = answer({ curve: { coverageDeg: 120, points: [], letsGoAt: 0.9, waist: null, reopens } })
    const near = aboutFrequencyText(frequencyOfMouthHz(2.5, 0.26), 2)
    expect(holdSentence(wide, 0.26, 120, 'm')).toContain(`Higher up it opens once more, all round near ${near}.`)
  })
  test.each([
    [null, 'plays all round: nowhere in front is it 6 dB down'],
    [130, 'its beam is 130° wide, wider than the label says'],
    [68, 'its beam is 68° wide, narrower than the label says'],
    [93.4, 'its beam is 93° wide, about what the label says'],
  ])('a beam of %s° against a label of 90°', (beamwidthDeg, words) => {
    expect(beamSentence(answer({ beamwidthDeg }), 90, 500)).toContain(
      `At 500 Hz the mouth is 0.38 wavelengths wide and ${words}.`,
    )
  })
  test('says how much quieter it is 90° off', () => {
    expect(beamSentence(answer({}), 90, 500)).toMatch(/90° off it is 2 dB quieter than straight ahead\.$/)
    expect(beamSentence(answer({ patternDb: [-0.2] }), 90, 500)).toContain('as loud as straight ahead')
    expect(beamSentence(answer({ patternDb: [Number.NEGATIVE_INFINITY] }), 90, 500)).toContain('more than 40 dB')
  })
  test('rounds to what a tape or an ear can use', () => {
    expect(nearLengthText(0.26, 'm')).toBe('26 cm')
    expect(nearLengthText(4.893, 'm')).toBe('4.9 m')
    expect(beamwidthText(67.7)).toBe('68°')
    expect(beamwidthText(null)).toBe('all round')
    expect(aboutFrequencyText(326, 2)).toBe('330 Hz')
  })
})

describe('the guess', () => {
  test('is told how far off it is, and in which direction', () => {
    expect(guessHornVerdict(125, 1129, 90)).toContain(
      'You said 125 Hz; computed it is about 1.1 kHz, 3 octaves higher.',
    )
    expect(guessHornVerdict(4000, 1129, 90)).toContain('2 octaves lower. It holds more')
    expect(guessHornVerdict(800, 1129, 90)).toContain('0.5 octaves higher')
    expect(guessHornVerdict(1000, 1129, 90)).toContain('You knew it.')
  })
})

describe('links', () => {
  test('a whole horn survives its link', () => {
    const state: HornState = {
      mouthM: 1.4,
      coverageDeg: 65,
      frequencyHz: 31.5,
      signal: 'music',
      level: 'matched',
      units: 'ft',
    }
    const params = writeLink(hornLink, state, new URLSearchParams())
    expect(readLink(hornLink, new URLSearchParams(params.toString()))).toMatchObject({ state, dropped: [] })
  })
  test.each([
    'horn.mouthM=7',
    'horn.coverageDeg=39',
    'horn.coverageDeg=60.5',
    'horn.frequencyHz=501',
    'horn.mouthM=-1',
  ])('%s is dropped', (query) => {
    const { dropped } = readLink(hornLink, new URLSearchParams(query))
    expect(dropped).toHaveLength(1)
  })
  test('a guess survives its link, another frequency is dropped', () => {
    const state = { guessHz: 630, shown: true }
    expect(readLink(guessHornLink, writeLink(guessHornLink, state, new URLSearchParams()))).toMatchObject({
      state,
      dropped: [],
    })
    expect(readLink(guessHornLink, new URLSearchParams('guess-horn.guessHz=77')).dropped).toHaveLength(1)
  })
})

describe('the drawing', () => {
  test('the slider finds the step nearest to any mouth', () => {
    for (const [index, mouthM] of mouthStepsM.entries()) expect(nearestIndex(mouthStepsM, mouthM)).toBe(index)
    expect(mouthStepsM[nearestIndex(mouthStepsM, 0.31)]).toBe(0.3)
  })
  test('a mouth twice as wide has the same curve an octave lower, all round where nothing is down', () => {
    const { points } = hornCurve(90)
    const one = beamwidthCurve(points, 0.5)
    const two = beamwidthCurve(points, 1)
    expect(one[0]).toEqual({ x: chartHz[0], y: allRoundDeg })
    expect(two[0]).toEqual({ x: chartHz[0], y: allRoundDeg })
    const fall = (curve: typeof one) => curve.find(({ y }) => y < 100)?.x ?? Number.NaN
    expect(fall(one) / fall(two)).toBeCloseTo(2, 9)
    for (const { x } of [...one, ...two]) {
      expect(x).toBeGreaterThanOrEqual(chartHz[0])
      expect(x).toBeLessThanOrEqual(chartHz[1])
    }
  })
  test('the handle rides on the nearest point of the line', () => {
    const curve = [
      { x: 100, y: 180 },
      { x: 400, y: 90 },
    ]
    expect(beamwidthOnCurve(curve, 190)).toBe(180)
    expect(beamwidthOnCurve(curve, 210)).toBe(90)
    expect(beamwidthOnCurve([], 210)).toBe(allRoundDeg)
  })
  test('straight walls of 90° are half as deep as the mouth is wide', () => {
    expect(straightWallDepthM(4, 90)).toBeCloseTo(2, 12)
    expect(hornOutline(4, 90, 0, 5)).toBe('M2.000 3.000L0 5L2.000 7.000')
  })
  test('the fan can be set to every third octave of the chart', () => {
    for (const frequencyHz of hornFrequenciesHz)
      expect(hornAnswer({ mouthM: 0.26, coverageDeg: 90, frequencyHz }).patternDb).toHaveLength(181)
  })
})
