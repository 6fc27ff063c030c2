import { expect, test, vi } from 'vitest'
import { createLoopPeak } from '../../../src/acoustics/signals/loop-peak.ts'
import { arrivingPeak } from '../../../src/sound/arriving-peak.ts'

const loop = Float32Array.from({ length: 1000 }, (_, n) => 0.5 * Math.sin((2 * Math.PI * n) / 100))
const responses = { here: new Float32Array([0.5, 0.5]), front: new Float32Array([1, -1]) }

test('the exact peak is worked out once, and only if the bound would not do', () => {
  const peakOf = vi.fn(createLoopPeak(loop))
  const peak = arrivingPeak(loop, peakOf, responses)
  // max|x| Σ|h|
  expect(peak('here', 0.6)).toBeCloseTo(0.5, 7)
  expect(peak('front', 1)).toBeCloseTo(1, 7)
  expect(peakOf).not.toHaveBeenCalled()
  // The difference of neighbouring samples of a sine of amplitude 0.5 and 100 samples: sin(π/100).
  expect(peak('front', 0.9)).toBeCloseTo(Math.sin(Math.PI / 100), 4)
  expect(peak('front', 0.01)).toBeCloseTo(Math.sin(Math.PI / 100), 4)
  expect(peakOf).toHaveBeenCalledTimes(1)
})
