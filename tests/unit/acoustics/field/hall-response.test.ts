import { describe, expect, it } from 'vitest'
import {
  absorptionDbPerM,
  divide,
  type Hall,
  type HallSurface,
  hallField,
  hallFieldResponse,
  hallSurfaces,
  makeAir,
  monopole,
  multiply,
  type PlacedSource,
  type Point,
} from '../../../../src/acoustics/index.ts'
import { decayFromResponseS } from '../../../../src/acoustics/measuring/impulse-decay.ts'
import { inverseRealDft } from '../../../../src/acoustics/signals/dft.ts'
import { exactHall } from './exact-hall.ts'
import type { PlainHall } from './plain-images.ts'

const air = makeAir()
const source: Point = { xM: -2.5, yM: 0.31, zM: 3 }
const listener: Point = { xM: -2.5, yM: 1.7, zM: 0.5 }
const directM = Math.hypot(0, 1.39, 2.5)
const size = { widthM: 11, heightM: 4.6, lengthM: 18 }

/** Timber, curtains and bare brick of the demo hall at 125 Hz. */
const halls: Record<string, PlainHall['alphas']> = {
  timber: [
    [0.18, 0.18],
    [0.1, 0.18],
    [0.18, 0.18],
  ],
  curtains: [
    [0.3, 0.3],
    [0.1, 0.18],
    [0.3, 0.18],
  ],
  brick: [
    [0.01, 0.01],
    [0.1, 0.2],
    [0.01, 0.01],
  ],
}

const hallOf = (alphas: PlainHall['alphas']): Hall => ({
  ...size,
  absorption: () => 0.1,
  surfaces: Object.fromEntries(
    hallSurfaces.map((surface, i) => [surface, () => alphas[Math.floor(i / 2)]?.[i % 2] as number]),
  ) as Record<HallSurface, () => number>,
})

const sampleRateHz = 2048
const length = 2.75 * sampleRateHz
const leadS = 0.1
const lead = Math.round(leadS * sampleRateHz)
const [fromHz, toHz] = [20, 115]

/** What both are heard through: smooth on both sides, so that neither spreads far in time. */
function weight(frequencyHz: number): number {
  const up = Math.max(0, Math.min(1, (frequencyHz - fromHz) / 25))
  const down = Math.max(0, Math.min(1, (toHz - frequencyHz) / 35))
  return (Math.sin((Math.PI / 2) * up) * Math.sin((Math.PI / 2) * down)) ** 2
}

/** Ours: the field of a point source over that of a point source 1 m away without its travel, so that both are Σ factor/r. */
function ours(alphas: PlainHall['alphas'], damped = true): Float32Array {
  const point: PlacedSource = {
    radiation: (frequencyHz) => monopole(frequencyHz, air),
    position: source,
    yawRad: 0,
    gain: 1,
    delayS: 0,
    polarity: 1,
  }
  const hall = hallOf(alphas)
  return hallFieldResponse(
    (frequencyHz, dampingPerM) => {
      const pressure = hallField([point], hall, frequencyHz, air, damped ? dampingPerM : 0)(listener)
      // j ωρ/4π of a unit volume velocity
      const strength = { re: 0, im: (2 * Math.PI * frequencyHz * air.densityKgM3) / (4 * Math.PI) }
      return multiply(divide(pressure, strength), { re: weight(frequencyHz), im: 0 })
    },
    hall,
    air,
    { sampleRateHz, length, leadS, directM, fromHz, toHz },
  )
}

/** The exact field's, through the same weight, with the direct sound at the same time: lines so close that nothing folds over. */
function exact(alphas: PlainHall['alphas']): Float64Array {
  const total = 8 * sampleRateHz
  const airLossPerM = (absorptionDbPerM(80, air) * Math.LN10) / 20
  const spectrum = { re: new Float64Array(total / 2 + 1), im: new Float64Array(total / 2 + 1) }
  const aheadS = directM / air.speedOfSoundMps - leadS
  for (let k = 0; k < spectrum.re.length; k++) {
    const frequencyHz = (k * sampleRateHz) / total
    const gain = weight(frequencyHz)
    if (gain === 0) continue
    const wavenumber = (2 * Math.PI * frequencyHz) / air.speedOfSoundMps
    const { re: a, im: b } = exactHall({ ...size, alphas }, source, listener, wavenumber, airLossPerM)
    const phaseRad = 2 * Math.PI * frequencyHz * aheadS
    spectrum.re[k] = gain * (a * Math.cos(phaseRad) - b * Math.sin(phaseRad))
    spectrum.im[k] = gain * (a * Math.sin(phaseRad) + b * Math.cos(phaseRad))
  }
  return inverseRealDft(spectrum, total).subarray(0, length)
}

const energy = (samples: ArrayLike<number>, fromS: number, toS: number) => {
  let sum = 0
  for (let i = lead + Math.round(fromS * sampleRateHz); i < lead + Math.round(toS * sampleRateHz); i++)
    sum += (samples[i] as number) ** 2
  return sum
}

describe('the response of all images', () => {
  for (const [name, alphas] of Object.entries(halls)) {
    it(`is that of the exact field, ${name}: waveform within 3 %, levels within 0.1 dB, decay within 2 %`, () => {
      const own = ours(alphas)
      const reference = exact(alphas)
      // Rings of brick are not over after the longest response.
      const lastS = name === 'brick' ? 2.5 : 1.5
      for (let fromS = 0; fromS < lastS; fromS += 0.25) {
        const difference = own.map((value, i) => value - (reference[i] as number))
        const share = energy(difference, fromS, fromS + 0.25) / energy(reference, fromS, fromS + 0.25)
        expect(Math.sqrt(share), `waveform from ${fromS} s`).toBeLessThan(0.03)
        const levelDb = 10 * Math.log10(energy(own, fromS, fromS + 0.25) / energy(reference, fromS, fromS + 0.25))
        expect(Math.abs(levelDb), `level from ${fromS} s`).toBeLessThan(0.1)
      }
      const spec = { fromDb: -5, toDb: name === 'brick' ? -10 : -25 }
      const decay = (samples: ArrayLike<number>) => decayFromResponseS(samples, sampleRateHz, spec)
      expect(decay(own) / decay(reference)).toBeGreaterThan(0.98)
      expect(decay(own) / decay(reference)).toBeLessThan(1.02)
    })
  }
  it('would fold over in a hard hall without the damping', () => {
    const reference = exact(halls.brick as PlainHall['alphas'])
    const folded = ours(halls.brick as PlainHall['alphas'], false).map((value, i) => value - (reference[i] as number))
    expect(energy(folded, 0.5, 2) / energy(reference, 0.5, 2)).toBeGreaterThan(0.1)
  })
  it('refuses what it cannot transform', () => {
    const hall = hallOf(halls.timber as PlainHall['alphas'])
    const ask = (change: object) =>
      hallFieldResponse(() => ({ re: 0, im: 0 }), hall, air, {
        sampleRateHz,
        length,
        leadS,
        directM,
        fromHz,
        toHz,
        ...change,
      })
    expect(() => ask({ toHz: 600 })).toThrow('toHz is 600')
    expect(() => ask({ fromHz: Number.NaN })).toThrow('fromHz')
    expect(() => ask({ length: 1.5 })).toThrow('length is 1.5')
    expect(() => ask({ directM: -1 })).toThrow('directM is -1')
    expect(ask({}).every((value) => value === 0)).toBe(true)
  })
})
