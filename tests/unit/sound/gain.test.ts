import { expect, test } from 'vitest'
import { gainFromDb, placeGains, volumeGain } from '../../../src/sound/gain.ts'

test('decibels become amplitude ratios', () => {
  // 20 lg of 10, 2 and 1/10; 6.0206 is rounded to 0.0001 dB, which is 1.2e-5 of the gain.
  expect(gainFromDb(0)).toBe(1)
  expect(gainFromDb(20)).toBeCloseTo(10, 12)
  expect(gainFromDb(-20)).toBeCloseTo(0.1, 12)
  expect(gainFromDb(6.0206)).toBeCloseTo(2, 4)
  expect(() => gainFromDb(Number.NaN)).toThrow(new RangeError('gainDb is NaN; allowed is a finite number'))
})

test('the volume takes −60 to 0 dB and nothing beyond', () => {
  expect(volumeGain(0)).toBe(1)
  expect(volumeGain(-60)).toBeCloseTo(0.001, 12)
  for (const volumeDb of [0.001, -60.001, Number.NaN, Number.NEGATIVE_INFINITY]) {
    expect(() => volumeGain(volumeDb)).toThrow(RangeError)
  }
})

test('only the place of the ear is heard, at its matching gain', () => {
  expect(placeGains('here', { here: -20, front: 0 })).toEqual({ here: gainFromDb(-20), front: 0 })
  expect(placeGains('front', { here: -20, front: 0 })).toEqual({ here: 0, front: 1 })
})

test('matching only ever turns down', () => {
  expect(() => placeGains('here', { here: 0.1, front: 0 })).toThrow(
    /^gainsDb\.here is 0\.1; allowed is a finite number up to 0 dB$/,
  )
  expect(() => placeGains('here', { here: 0, front: Number.NaN })).toThrow(RangeError)
})
