import { expect, test } from 'vitest'
import { scaleToRms } from '../../../src/sound/scale-to-rms.ts'

test('scaling keeps the shape and sets the root mean square', () => {
  // A sine over whole periods has an rms of its amplitude / √2.
  const sine = Float32Array.from({ length: 4800 }, (_, index) => Math.sin((2 * Math.PI * index) / 48))
  const scaled = scaleToRms(sine, 0.1)
  expect(scaled[12]).toBeCloseTo(0.1 * Math.SQRT2, 6)
  expect(scaled[36]).toBeCloseTo(-0.1 * Math.SQRT2, 6)
})

test('silence and broken samples cannot be scaled', () => {
  expect(() => scaleToRms(new Float32Array(10), 0.1)).toThrow(RangeError)
  expect(() => scaleToRms(new Float32Array([1, Number.NaN]), 0.1)).toThrow(RangeError)
})
