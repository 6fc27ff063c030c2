import { describe, expect, test } from 'vitest'
import { fromPolar } from '../../../../src/acoustics/complex.ts'
import { interpolatedTransfer, transferKnotsHz } from '../../../../src/acoustics/signals/interpolated-transfer.ts'

describe('knots of a transfer function', () => {
  test('start at 0, keep the fine step, then one per cent, then the widest step, and pass the end', () => {
    const knots = transferKnotsHz({ fineStepHz: 5, widestStepHz: 48, toHz: 24000 })
    const steps = knots.slice(1).map((knot, index) => knot - (knots[index] ?? 0))
    expect(knots[0]).toBe(0)
    expect(steps[0]).toBe(5)
    expect(Math.max(...steps)).toBeCloseTo(48, 9)
    expect(knots.at(-1)).toBeGreaterThanOrEqual(24000)
    const at1k = knots.findIndex((knot) => knot > 1000)
    expect(steps[at1k]).toBeCloseTo((knots[at1k] ?? 0) / 100, 9)
  })

  test('out-of-range arguments name themselves', () => {
    expect(() => transferKnotsHz({ fineStepHz: 0, widestStepHz: 1, toHz: 10 })).toThrow(/fineStepHz is 0/)
    expect(() => transferKnotsHz({ fineStepHz: 5, widestStepHz: 4, toHz: 10 })).toThrow(/widestStepHz is 4/)
    expect(() => transferKnotsHz({ fineStepHz: 5, widestStepHz: 5, toHz: Number.NaN })).toThrow(/toHz is NaN/)
  })
})

describe('an interpolated transfer function', () => {
  test('is exact for a parabola on uneven knots', () => {
    const parabola = (x: number) => ({ re: 3 - 2 * x + 0.5 * x * x, im: x * x })
    const between = interpolatedTransfer(parabola, [0, 1, 2.5, 3, 7])
    for (const x of [0, 0.3, 1, 1.9, 2.6, 5, 7]) {
      expect(between(x).re).toBeCloseTo(parabola(x).re, 12)
      expect(between(x).im).toBeCloseTo(parabola(x).im, 12)
    }
  })

  test('follows a delay of 4 ms within 0.5 % between knots 24 Hz apart', () => {
    const delay = (frequencyHz: number) => fromPolar(1, -2 * Math.PI * frequencyHz * 0.004)
    const worstError = (widestStepHz: number) => {
      const between = interpolatedTransfer(delay, transferKnotsHz({ fineStepHz: 6, widestStepHz, toHz: 20000 }))
      let worst = 0
      for (let frequencyHz = 5000; frequencyHz < 19900; frequencyHz += 7.3) {
        const [a, b] = [between(frequencyHz), delay(frequencyHz)]
        worst = Math.max(worst, Math.hypot(a.re - b.re, a.im - b.im))
      }
      return worst
    }
    expect(worstError(24)).toBeLessThan(0.005)
    // Slopes from neighbours are (ωh)²/6 off, which leaves 0.096 (ωh)³/6 between knots, and a fourth-order part.
    expect(worstError(12)).toBeCloseTo((0.0962 * (2 * Math.PI * 12 * 0.004) ** 3) / 6, 4)
    expect(worstError(48) / worstError(24)).toBeGreaterThan(8)
    expect(worstError(48) / worstError(24)).toBeLessThan(16)
  })

  test('throws outside its knots and for knots that do not rise', () => {
    const one = () => ({ re: 1, im: 0 })
    expect(() => interpolatedTransfer(one, [0, 1, 2])(2.1)).toThrow(RangeError)
    expect(() => interpolatedTransfer(one, [0, 1, 1])).toThrow(/knotsHz\[2\] is 1/)
    expect(() => interpolatedTransfer(one, [0, 1])).toThrow(/knotsHz.length is 2/)
  })
})
