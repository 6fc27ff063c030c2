import { requireInRange } from '../numeric-range.ts'

/**
 * Cubic spline through points, with the third derivative continuous at the second and the last but one of them
 * ("not a knot"), so that the ends are as free as the middle: a cubic comes back as itself.
 *
 * @param x  strictly rising, at least 4 finite numbers
 * @param y  one finite number for each x
 * @returns  the spline as a function of a number within the range of x; exact at the points
 * @throws   RangeError for x or y as above, and from the returned function for a number outside the range of x
 * Source:   de Boor, A Practical Guide to Splines, chapter IV; the ends are eliminated into a tridiagonal system.
 */
export function cubicSpline(x: readonly number[], y: readonly number[]): (at: number) => number {
  const n = requireInRange('x.length', x.length, { min: 4 })
  requireInRange('y.length', y.length, { min: n, max: n })
  x.forEach((value, i) => {
    requireInRange(`x[${i}]`, value, i ? { above: x[i - 1] as number } : {})
    requireInRange(`y[${i}]`, y[i] as number)
  })
  const h = Array.from({ length: n - 1 }, (_, i) => (x[i + 1] as number) - (x[i] as number))
  const slope = h.map((width, i) => ((y[i + 1] as number) - (y[i] as number)) / width)
  const curvature = secondDerivatives(h, slope)

  return (at) => {
    requireInRange('at', at, { min: x[0] as number, max: x[n - 1] as number })
    let i = 0
    while (i < n - 2 && at > (x[i + 1] as number)) i++
    const width = h[i] as number
    const right = (at - (x[i] as number)) / width
    const left = 1 - right
    const bend = (left ** 3 - left) * (curvature[i] as number) + (right ** 3 - right) * (curvature[i + 1] as number)
    return left * (y[i] as number) + right * (y[i + 1] as number) + (bend * width * width) / 6
  }
}

/** Second derivatives at the points: h_{i−1} m_{i−1} + 2 (h_{i−1} + h_i) m_i + h_i m_{i+1} = 6 (s_i − s_{i−1}) inside. */
function secondDerivatives(h: number[], slope: number[]): number[] {
  const last = h.length
  const width = (i: number): number => h[i] as number
  const lower = new Array<number>(last + 1).fill(0)
  const diagonal = new Array<number>(last + 1).fill(0)
  const upper = new Array<number>(last + 1).fill(0)
  const right = new Array<number>(last + 1).fill(0)
  for (let i = 1; i < last; i++) {
    lower[i] = width(i - 1)
    diagonal[i] = 2 * (width(i - 1) + width(i))
    upper[i] = width(i)
    right[i] = 6 * ((slope[i] as number) - (slope[i - 1] as number))
  }
  // m₀ = m₁ (1 + r) − m₂ r with r = h₀/h₁, and the mirror image at the other end.
  const first = width(0) / width(1)
  const final = width(last - 1) / width(last - 2)
  diagonal[1] = (diagonal[1] as number) + width(0) * (1 + first)
  upper[1] = (upper[1] as number) - width(0) * first
  diagonal[last - 1] = (diagonal[last - 1] as number) + width(last - 1) * (1 + final)
  lower[last - 1] = (lower[last - 1] as number) - width(last - 1) * final

  const m = new Array<number>(last + 1).fill(0)
  for (let i = 2; i < last; i++) {
    const factor = (lower[i] as number) / (diagonal[i - 1] as number)
    diagonal[i] = (diagonal[i] as number) - factor * (upper[i - 1] as number)
    right[i] = (right[i] as number) - factor * (right[i - 1] as number)
  }
  for (let i = last - 1; i >= 1; i--) {
    const beyond = i === last - 1 ? 0 : (upper[i] as number) * (m[i + 1] as number)
    m[i] = ((right[i] as number) - beyond) / (diagonal[i] as number)
  }
  m[0] = (m[1] as number) * (1 + first) - (m[2] as number) * first
  m[last] = (m[last - 1] as number) * (1 + final) - (m[last - 2] as number) * final
  return m
}
