import { describe, expect, it } from 'vitest'
import { magnitude } from '../../../../src/acoustics/complex.ts'
import { makeAir } from '../../../../src/acoustics/medium/air.ts'
import { RegularWaves } from '../../../../src/acoustics/radiation/boundary-elements/regular-waves.ts'
import {
  boxPressureAt,
  boxSolution,
  surfacePowerW,
} from '../../../../src/acoustics/radiation/box-surface/box-solution.ts'
import type { Cabinet, Driver } from '../../../../src/acoustics/radiation/cabinet.ts'
import { expansionRadiation } from '../../../../src/acoustics/radiation/expansion-radiation.ts'
import { monopole } from '../../../../src/acoustics/radiation/monopole.ts'
import { type OutgoingExpansion, outgoingExpansion } from '../../../../src/acoustics/radiation/outgoing-expansion.ts'

const air = makeAir()
const degrees = Math.PI / 180
const woofer: Driver = { kind: 'piston', radiusM: 0.105, xM: 0, yM: -0.135 }
const horn: Driver = {
  kind: 'horn',
  mouthWidthM: 0.26,
  mouthHeightM: 0.17,
  horizontalCoverageRad: 90 * degrees,
  verticalCoverageRad: 60 * degrees,
  xM: 0.02,
  yM: 0.13,
}
const cabinet = (drivers: Driver[]): Cabinet => ({ widthM: 0.32, heightM: 0.56, depthM: 0.3, drivers })
const levelDb = (p: { re: number; im: number }) => 20 * Math.log10(magnitude(p))

describe('standing waves', () => {
  it('have the slope that their values show', () => {
    const waves = new RegularWaves(12, 9, 0.6)
    const [a, b, c] = [0.6, -0.48, 0.64]
    const at = (step: number): Float64Array => {
      waves.set(0.2 + step * a, -0.1 + step * b, 0.31 + step * c, a, b, c)
      return Float64Array.from(waves.value)
    }
    const [before, after] = [at(-1e-5), at(1e-5)]
    at(0)
    for (let t = 0; t < waves.value.length; t++) {
      expect(((after[t] as number) - (before[t] as number)) / 2e-5).toBeCloseTo(waves.slope[t] as number, 6)
    }
  })
  it('have a slope on the axis, too', () => {
    const waves = new RegularWaves(6, 5, 0.5)
    waves.set(0, 0, 0.3, 1, 0, 0)
    const onAxis = Float64Array.from(waves.slope)
    waves.set(1e-7, 1e-7, 0.3, 1, 0, 0)
    for (let t = 0; t < onAxis.length; t++) expect(onAxis[t]).toBeCloseTo(waves.slope[t] as number, 5)
  })
})

describe('the outgoing expansion of a cabinet', () => {
  const drivers = [woofer, horn]
  for (const frequencyHz of [31.5, 500, 1500]) {
    const solution = boxSolution(cabinet(drivers), frequencyHz, air)
    const data = outgoingExpansion(solution)
    const radiation = expansionRadiation(data, air)

    it(`agrees with the surface integral outside its sphere, ${frequencyHz} Hz`, () => {
      let loudest = -Infinity
      const levels: [number, number][] = []
      for (const radii of [1.001, 1.3, 5]) {
        for (let i = 0; i < 60; i++) {
          const cosine = -1 + (2 * (i + 0.5)) / 60
          const r = radii * data.radiusM
          const s = r * Math.sqrt(1 - cosine ** 2)
          const point = { xM: s * Math.cos(2.4 * i), yM: s * Math.sin(2.4 * i), zM: r * cosine + data.centreZM }
          levels.push([levelDb(radiation.pressureAt(point)), levelDb(boxPressureAt(solution, point))])
        }
      }
      for (const [level] of levels) loudest = Math.max(loudest, level)
      for (const [level, expected] of levels) {
        // In a null 40 dB down the same error of pressure is many dB.
        if (expected > loudest - 40) expect(Math.abs(level - expected)).toBeLessThan(0.03)
      }
    })

    it(`carries away what the drivers put in, ${frequencyHz} Hz`, () => {
      expect(Math.abs(10 * Math.log10(surfacePowerW(solution) / radiation.powerW))).toBeLessThan(0.005)
    })
  }

  it('survives a file and single precision', () => {
    const solution = boxSolution(cabinet([horn]), 800, air)
    const data = outgoingExpansion(solution)
    const text = JSON.stringify({ ...data, re: [...Float32Array.from(data.re)], im: [...Float32Array.from(data.im)] })
    const again = expansionRadiation(JSON.parse(text) as OutgoingExpansion, air)
    const radiation = expansionRadiation(data, air)
    expect(again.powerW / radiation.powerW).toBeCloseTo(1, 6)
    expect(again.farFieldDb(2, 0.3)).toBeCloseTo(radiation.farFieldDb(2, 0.3), 4)
    const point = { xM: 1, yM: 0.4, zM: -2 }
    expect(magnitude(again.pressureAt(point)) / magnitude(radiation.pressureAt(point))).toBeCloseTo(1, 6)
  })

  it('of a single spherical wave is a monopole', () => {
    // p = b h_0(kr)/h_0(kR) Y_00 equals jωρ e^{−jkr}/4πr for this b
    const [frequencyHz, radiusM] = [400, 0.5]
    const k = (2 * Math.PI * frequencyHz) / air.speedOfSoundMps
    const amplitude = ((2 * Math.PI * frequencyHz * air.densityKgM3) / (4 * Math.PI * radiusM)) * Math.sqrt(4 * Math.PI)
    const data = {
      frequencyHz,
      centreZM: 0,
      radiusM,
      order: 0,
      re: [amplitude * Math.sin(k * radiusM)],
      im: [amplitude * Math.cos(k * radiusM)],
    }
    const [radiation, exact] = [expansionRadiation(data, air), monopole(frequencyHz, air)]
    expect(radiation.powerW / exact.powerW).toBeCloseTo(1, 12)
    expect(radiation.directivityIndexDb).toBeCloseTo(0, 12)
    const point = { xM: 1, yM: -2, zM: 0.5 }
    expect(radiation.pressureAt(point).re).toBeCloseTo(exact.pressureAt(point).re, 10)
    expect(radiation.pressureAt(point).im).toBeCloseTo(exact.pressureAt(point).im, 10)
    expect(radiation.farFieldDb(1, 1)).toBeCloseTo(0, 12)
  })

  it('refuses data that do not fit', () => {
    const data = { frequencyHz: 100, centreZM: 0, radiusM: 0.4, order: 1, re: [1, 0, 0, 0], im: [0, 0, 0] }
    expect(() => expansionRadiation(data, air)).toThrow(/data.im.length is 3; allowed is a finite number from 4 to 4/)
    expect(() => expansionRadiation({ ...data, im: [0, 0, 0, Number.NaN] }, air)).toThrow(/not finite/)
    expect(() => expansionRadiation({ ...data, radiusM: 0, im: data.re }, air)).toThrow(/data.radiusM is 0/)
  })
})
