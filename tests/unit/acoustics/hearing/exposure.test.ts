import { expect, test } from 'vitest'
import { allowedExposureH } from '../../../../src/acoustics/hearing/exposure.ts'

test('three decibels more halve the time', () => {
  for (const levelDbA of [60, 85, 99.5, 120])
    expect((2 * allowedExposureH(levelDbA + 3)) / allowedExposureH(levelDbA)).toBeCloseTo(1, 12)
})

test('a level out of range or not finite is refused with what is allowed', () => {
  for (const levelDbA of [-1, 141, Number.NaN, Number.POSITIVE_INFINITY])
    expect(() => allowedExposureH(levelDbA)).toThrow(/levelDbA is .*allowed/)
})
