import { expect, test } from 'vitest'
import { readLink, writeLink } from '../../../../src/state/share-link.ts'
import { type BoxAndWaveState, boxAndWaveLink } from '../../../../src/widgets/box-and-wave/box-and-wave-link.ts'
import {
  againstWidth,
  boxFinding,
  missWords,
  rearWords,
  shadowSentence,
  waveSentence,
} from '../../../../src/widgets/box-and-wave/describe-box-and-wave.ts'
import { aboutFrequencyText, octaveWords } from '../../../../src/words/frequencies.ts'
import { waveLengthText, waveLengthWords } from '../../../../src/words/lengths.ts'

test('the finding turns to the shadow where the rear is 6 dB down', () => {
  expect(boxFinding(-5.9, 'round')).toBe('round')
  expect(boxFinding(-6, 'round')).toBe('A short wave leaves a shadow behind the box')
})

test('the sentence says how long the wave is, how it compares with the box, and what is behind', () => {
  const shown = { frequencyHz: 250, wavelengthM: 1.3728, widthM: 0.32, rearDb: -1.2, estimate: false }
  expect(waveSentence(shown, 'm')).toBe(
    'At 250 Hz the wave is 1.4 m long, 4 times the width of the box; behind, the third octave round it is 1 dB quieter than in front.',
  )
  expect(waveSentence({ ...shown, frequencyHz: 2000, wavelengthM: 0.1716, rearDb: -33.4, estimate: true }, 'ft')).toBe(
    'At 2 kHz the wave is 7 in long, half the width of the box; behind, the third octave round it is about 33 dB quieter than in front.',
  )
})

test('lengths are rounded to what a tape can use, in metres and feet', () => {
  expect([10.9, 9.97, 1.37, 1, 0.996, 0.0858].map((m) => waveLengthText(m, 'm'))).toEqual([
    '11 m',
    '10 m',
    '1.4 m',
    '1 m',
    '1 m',
    '9 cm',
  ])
  expect([10.9, 1.37, 0.5, 0.0858].map((m) => waveLengthText(m, 'ft'))).toEqual(['36 ft', '4.5 ft', '20 in', '3.5 in'])
  expect(waveLengthWords(0.0858, 'm')).toBe('9 centimetres')
})

test('a wave against the width goes from many times to a twelfth', () => {
  expect([10, 2.4, 1.9, 1.5, 1, 0.7, 0.5, 0.34, 0.25, 0.085].map((times) => againstWidth(times, 1))).toEqual([
    '10 times the width of the box',
    'twice the width of the box',
    'twice the width of the box',
    'one and a half times the width of the box',
    'about as long as the box is wide',
    'about two thirds of the width of the box',
    'half the width of the box',
    'a third of the width of the box',
    'a quarter of the width of the box',
    'a twelfth of the width of the box',
  ])
})

test('a rear within half a decibel is as loud as the front', () => {
  expect(rearWords(-0.4, false)).toBe('as loud as in front')
  expect(rearWords(0.7, false)).toBe('1 dB louder than in front')
})

test('misses are told in thirds of an octave', () => {
  expect([1, 1.26, 1.6, 2, 2.5, 8].map(octaveWords)).toEqual([
    'no octave',
    'a third of an octave',
    'two thirds of an octave',
    'one octave',
    '1⅓ octaves',
    '3 octaves',
  ])
  expect(missWords(200, 400)).toBe('one octave too low')
  expect(missWords(420, 400)).toBe('right to a sixth of an octave')
})

test('the sentence about the shadow names our definition and both rules', () => {
  const text = shadowSentence({ computedHz: 284, widthRuleHz: 686.4, kaRuleHz: 218.5 })
  expect(text).toContain('From about 280 Hz up')
  expect(text).toContain('our definition')
  expect(text).toContain('690 Hz, 1⅓ octaves too high')
  expect(text).toContain('220 Hz, a third of an octave too low')
  expect(aboutFrequencyText(2123)).toBe('2.1 kHz')
})

test('a whole state survives its link', () => {
  const state: BoxAndWaveState = {
    widthM: 0.32,
    frequencyHz: 31.5,
    reference: 'no-box',
    sound: 'all',
    signal: 'music',
    level: 'matched',
    units: 'ft',
  }
  const params = writeLink(boxAndWaveLink, state, new URLSearchParams())
  expect(readLink(boxAndWaveLink, new URLSearchParams(params.toString()))).toMatchObject({ state, dropped: [] })
})

test('a width out of range and a frequency between the bands are dropped', () => {
  const address = 'box-and-wave.widthM=1.01&box-and-wave.frequencyHz=130&box-and-wave.sound=all'
  const { state, dropped } = readLink(boxAndWaveLink, new URLSearchParams(address))
  expect([state.widthM, state.frequencyHz, state.sound]).toEqual([0.5, 125, 'all'])
  expect(dropped).toHaveLength(2)
})
