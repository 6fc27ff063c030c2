import { describe, expect, test } from 'vitest'
import { factText } from '../../../../src/widgets/prose/fact-text.ts'

describe('a fact is written with its unit held to it', () => {
  test('on boxes: frequencies to two digits, octaves in words, multiples bare', () => {
    expect(factText('box', { value: 433, unit: 'Hz' })).toBe('430\u00a0Hz')
    expect(factText('box', { value: 0.66, unit: 'octaves' })).toBe('two thirds of an octave')
    expect(factText('box', { value: 1.58, unit: 'times' })).toBe('1.6')
    expect(factText('box', { value: 2.34, unit: 'dB' }, { digits: 1 })).toBe('2.3\u00a0dB')
  })

  test('on columns', () => {
    expect(factText('column', { value: 13.6, unit: 'dB' })).toBe('14\u00a0dB')
    expect(factText('column', { value: 13.6, unit: 'dB' }, { inWords: true })).toBe('14\u00a0dB down')
    expect(factText('column', { value: 0.1, unit: 'dB' }, { inWords: true })).toBe('unchanged')
    expect(factText('column', { value: 3050.7, unit: 'Hz' })).toBe('3.1\u00a0kHz')
    expect(factText('column', { value: 22.4, unit: '°' })).toBe('22°')
    expect(factText('column', { value: 2.62, unit: '1' })).toBe('2.6')
    expect(factText('column', { value: 20.9, unit: '1' })).toBe('21')
  })

  test('on horns', () => {
    expect(factText('horn', { value: 23758.8, unit: 'm ° Hz' })).toBe('23\u202f800')
    expect(factText('horn', { value: 1128.9, unit: 'Hz' })).toBe('1.1\u00a0kHz')
    expect(factText('horn', { value: 1128.9, unit: 'Hz' }, { significant: 3 })).toBe('1.13\u00a0kHz')
    expect(factText('horn', { value: 67.7, unit: '°' })).toBe('68°')
    expect(factText('horn', { value: 9.42, unit: 'dB' })).toBe('9\u00a0dB')
    expect(factText('horn', { value: 1.264, unit: '1' })).toBe('1.3')
  })

  test('on hearing', () => {
    expect(factText('ear', { value: 25.3, unit: '%' })).toBe('25\u00a0%')
    expect(factText('ear', { value: 8.53, unit: 'sone' })).toBe('8.5')
    expect(factText('ear', { value: 6.02, unit: 'dB' })).toBe('6\u00a0dB')
    expect(factText('ear', { value: 0.29, unit: 'times' })).toBe('about a quarter')
    expect(factText('ear', { value: 60, unit: 'phon' })).toBe('60\u00a0phon')
  })

  test('on walls: frequencies of dips', () => {
    expect(factText('wall', { value: 4.86, unit: 'dB' })).toBe('5\u00a0dB')
    expect(factText('wall', { value: 0.55, unit: 'Hz' }, { digits: 1 })).toBe('0.6\u00a0Hz')
    expect(factText('wall', { value: 3.06, unit: 'times' })).toBe('3 times')
    expect(factText('wall', { value: 204.7, unit: 'Hz' })).toBe('205\u00a0Hz')
    expect(factText('wall', { value: 7.3, unit: 'ms' })).toBe('7\u00a0ms')
  })

  test('on halls and steered bass', () => {
    expect(factText('hall', { value: 2.47, unit: 's' })).toBe('2.5\u00a0s')
    expect(factText('hall', { value: 0.074, unit: '1' }, { digits: 2 })).toBe('0.07')
    expect(factText('hall', { value: 910.8, unit: 'm³' })).toBe('911\u00a0m³')
    expect(factText('hall', { value: 203.4, unit: 'Hz' })).toBe('203\u00a0Hz')
    expect(factText('steer', { value: 3.93, unit: 'ms' })).toBe('3.9\u00a0ms')
    expect(factText('steer', { value: 2.04, unit: 'times' })).toBe('2.0 times')
    expect(factText('steer', { value: -1.2, unit: 'dB' })).toBe('−1\u00a0dB')
    expect(factText('steer', { value: 343.2, unit: 'm/s' }, { digits: 1 })).toBe('343.2\u00a0m/s')
  })
})
