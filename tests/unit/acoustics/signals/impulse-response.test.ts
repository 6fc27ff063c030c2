import { describe, expect, it } from 'vitest'
import { type Complex, fromPolar } from '../../../../src/acoustics/complex.ts'
import { realDft } from '../../../../src/acoustics/signals/dft.ts'
import { impulseResponse } from '../../../../src/acoustics/signals/impulse-response.ts'

const sampleRateHz = 48000

describe('an impulse response', () => {
  it('of unit gain is a unit impulse at zero, at even and odd lengths', () => {
    for (const length of [2, 3, 64, 75, 1000]) {
      const response = impulseResponse(() => ({ re: 1, im: 0 }), { sampleRateHz, length })
      expect(response.length).toBe(length)
      expect(response[0]).toBeCloseTo(1, 6)
      for (const sample of response.subarray(1)) expect(Math.abs(sample)).toBeLessThan(1e-12)
    }
  })

  it('of a delay e^{−jωτ} comes later, not earlier', () => {
    const response = impulseResponse((f) => fromPolar(0.5, (-2 * Math.PI * f * 10) / sampleRateHz), {
      sampleRateHz,
      length: 64,
    })
    expect(response.indexOf(Math.max(...response))).toBe(10)
    expect(response[10]).toBeCloseTo(0.5, 6)
  })

  it('has the transfer function at every sampled frequency (32-bit rounding: 1e-6)', () => {
    const transfer = (f: number): Complex => fromPolar(1 / (1 + (f / 1000) ** 2), -2 * Math.atan(f / 1000))
    const length = 960
    const { re, im } = realDft(impulseResponse(transfer, { sampleRateHz, length }))
    for (let k = 1; k < length / 2; k++) {
      const wanted = transfer((k * sampleRateHz) / length)
      expect(Math.abs((re[k] as number) - wanted.re)).toBeLessThan(1e-6)
      expect(Math.abs((im[k] as number) - wanted.im)).toBeLessThan(1e-6)
    }
    expect(re[0]).toBeCloseTo(1, 6)
    expect(re[length / 2]).toBeCloseTo(transfer(24000).re, 6)
  })

  it('asks for the frequencies k · rate / N from 0 to half the rate', () => {
    const asked: number[] = []
    impulseResponse(
      (f) => {
        asked.push(f)
        return { re: 0, im: 0 }
      },
      { sampleRateHz: 8000, length: 8 },
    )
    expect(asked).toEqual([0, 1000, 2000, 3000, 4000])
  })

  it('is refused when the transfer function is not finite, naming the frequency', () => {
    const broken = (f: number): Complex => ({ re: f === 3000 ? Number.NaN : 1, im: 0 })
    expect(() => impulseResponse(broken, { sampleRateHz: 8000, length: 8 })).toThrow(RangeError)
    expect(() => impulseResponse(broken, { sampleRateHz: 8000, length: 8 })).toThrow('transfer(3000 Hz)')
    expect(() => impulseResponse(() => ({ re: 0, im: Infinity }), { sampleRateHz, length: 8 })).toThrow(
      'transfer(0 Hz)',
    )
  })

  it('is refused for a length or rate outside the range', () => {
    const unit = (): Complex => ({ re: 1, im: 0 })
    for (const length of [1, 2.5, 2 ** 24 + 1, Number.NaN])
      expect(() => impulseResponse(unit, { sampleRateHz, length })).toThrow('length is')
    for (const rate of [0, -1, 1e6 + 1, Infinity]) {
      expect(() => impulseResponse(unit, { sampleRateHz: rate, length: 8 })).toThrow('sampleRateHz is')
    }
  })
})
