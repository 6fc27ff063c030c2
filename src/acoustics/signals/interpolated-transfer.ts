import type { Complex } from '../complex.ts'
import { requireInRange } from '../numeric-range.ts'

/**
 * Frequencies that are close enough together to interpolate a loudspeaker's transfer function whose travel time has
 * been taken out: the spacing asked for at low frequencies, where filters are sharp, then one per cent, then a largest step.
 *
 * @param spec.fineStepHz   spacing at the low end, above 0 Hz
 * @param spec.widestStepHz largest spacing, not below fineStepHz; 24 Hz keeps a delay of 4 ms within 0.5 per cent
 * @param spec.toHz         last frequency, above 0
 * @returns                 rising from 0, the last one at or beyond toHz
 * @throws RangeError       for arguments out of range
 */
export function transferKnotsHz(spec: { fineStepHz: number; widestStepHz: number; toHz: number }): number[] {
  requireInRange('fineStepHz', spec.fineStepHz, { above: 0, unit: 'Hz' })
  requireInRange('widestStepHz', spec.widestStepHz, { min: spec.fineStepHz, unit: 'Hz' })
  requireInRange('toHz', spec.toHz, { above: 0, max: 1e6, unit: 'Hz' })
  const knots = [0]
  for (let frequencyHz = 0; frequencyHz < spec.toHz; ) {
    frequencyHz += Math.min(spec.widestStepHz, Math.max(spec.fineStepHz, frequencyHz / 100))
    knots.push(frequencyHz)
  }
  return knots
}

/**
 * A transfer function computed at some frequencies and interpolated between them: cubic Hermite through the values,
 * slopes from the neighbours on either side (three-point differences for uneven steps).
 *
 * @param transfer  complex transfer function, called once for each knot
 * @param knotsHz   three or more rising frequencies, Hz
 * @returns         the interpolated function; it throws RangeError outside the knots
 * @throws RangeError if there are fewer than three knots or they do not rise
 */
export function interpolatedTransfer(
  transfer: (frequencyHz: number) => Complex,
  knotsHz: ArrayLike<number>,
): (frequencyHz: number) => Complex {
  const count = requireInRange('knotsHz.length', knotsHz.length, { min: 3 })
  const x = Float64Array.from(knotsHz)
  for (let i = 1; i < count; i++)
    requireInRange(`knotsHz[${i}]`, x[i] as number, { above: x[i - 1] as number, unit: 'Hz' })
  const re = new Float64Array(count)
  const im = new Float64Array(count)
  x.forEach((frequencyHz, i) => {
    const value = transfer(frequencyHz)
    re[i] = value.re
    im[i] = value.im
  })
  const reSlope = slopes(x, re)
  const imSlope = slopes(x, im)

  return (frequencyHz) => {
    requireInRange('frequencyHz', frequencyHz, { min: x[0] as number, max: x[count - 1] as number, unit: 'Hz' })
    let low = 0
    for (let high = count - 1; high - low > 1; ) {
      const middle = (low + high) >> 1
      if ((x[middle] as number) <= frequencyHz) low = middle
      else high = middle
    }
    const step = (x[low + 1] as number) - (x[low] as number)
    const t = (frequencyHz - (x[low] as number)) / step
    const atLow = (1 + 2 * t) * (1 - t) ** 2
    const slopeLow = t * (1 - t) ** 2 * step
    const atHigh = t * t * (3 - 2 * t)
    const slopeHigh = t * t * (t - 1) * step
    const between = (values: Float64Array, rates: Float64Array) =>
      atLow * (values[low] as number) +
      slopeLow * (rates[low] as number) +
      atHigh * (values[low + 1] as number) +
      slopeHigh * (rates[low + 1] as number)
    return { re: between(re, reSlope), im: between(im, imSlope) }
  }
}

/** Slope at every knot from the parabola through it and its two neighbours; at the ends from the end parabola. */
function slopes(x: Float64Array, y: Float64Array): Float64Array {
  const last = x.length - 1
  return x.map((_, i) => {
    const middle = Math.min(last - 1, Math.max(1, i))
    const before = (x[middle] as number) - (x[middle - 1] as number)
    const after = (x[middle + 1] as number) - (x[middle] as number)
    const rising = ((y[middle] as number) - (y[middle - 1] as number)) / before
    const onward = ((y[middle + 1] as number) - (y[middle] as number)) / after
    const atMiddle = (rising * after + onward * before) / (before + after)
    const bend = (onward - rising) / (before + after)
    return atMiddle + 2 * bend * ((x[i] as number) - (x[middle] as number))
  })
}
