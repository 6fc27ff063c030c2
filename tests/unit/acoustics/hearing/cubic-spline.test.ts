import { describe, expect, it } from 'vitest'
import { cubicSpline } from '../../../../src/acoustics/hearing/cubic-spline.ts'

const x = [-2, -1.5, 0, 0.25, 1, 3, 3.5]

describe('cubic spline', () => {
  it('gives a cubic back', () => {
    const cubic = (at: number): number => 2 * at ** 3 - at ** 2 + 5 * at - 7
    for (const points of [x, x.slice(0, 4)]) {
      const spline = cubicSpline(points, points.map(cubic))
      for (const at of [-2, -1.7, -0.3, 0.1, 0.25]) expect(spline(at)).toBeCloseTo(cubic(at), 10)
    }
  })

  it('goes through its points exactly, the first and the last among them', () => {
    const y = [3, -1, 4, 1, -5, 9, 2]
    const spline = cubicSpline(x, y)
    x.forEach((at, i) => {
      expect(spline(at)).toBeCloseTo(y[i] as number, 12)
    })
  })

  it('misses a smooth curve by a sixteenth when the points are twice as close', () => {
    const worst = (steps: number): number => {
      const points = Array.from({ length: steps + 1 }, (_, i) => (3 * i) / steps)
      const spline = cubicSpline(points, points.map(Math.sin))
      const between = Array.from({ length: 301 }, (_, i) => i / 100)
      return Math.max(...between.map((at) => Math.abs(spline(at) - Math.sin(at))))
    }
    // Fourth order, less what the ends cost.
    expect(worst(20) / worst(40)).toBeGreaterThan(12)
  })

  it('refuses points out of order, too few of them, and places outside', () => {
    expect(() => cubicSpline([0, 1, 1, 2], [0, 0, 0, 0])).toThrow('x[2] is 1; allowed is a finite number above 1')
    expect(() => cubicSpline([0, 1, 2], [0, 0, 0])).toThrow('x.length is 3')
    expect(() => cubicSpline([0, 1, 2, 3], [0, 0, 0])).toThrow('y.length is 3')
    expect(() => cubicSpline([0, 1, 2, 3], [0, Number.NaN, 0, 0])).toThrow('y[1] is NaN')
    const spline = cubicSpline(x, x)
    for (const at of [-2.1, 3.6, Number.NaN]) expect(() => spline(at)).toThrow(`at is ${at}; allowed is`)
  })
})
