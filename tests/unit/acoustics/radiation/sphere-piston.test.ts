import { describe, expect, it } from 'vitest'
import { type Complex, magnitude } from '../../../../src/acoustics/complex.ts'
import { makeAir } from '../../../../src/acoustics/medium/air.ts'
import type { Point } from '../../../../src/acoustics/point.ts'
import { capVelocityCoefficients } from '../../../../src/acoustics/radiation/cap-velocity.ts'
import { monopole } from '../../../../src/acoustics/radiation/monopole.ts'
import { type SpherePistonShape, spherePiston } from '../../../../src/acoustics/radiation/sphere-piston.ts'
import { gaussLegendre } from '../../../../src/acoustics/special/gauss-legendre.ts'
import { legendrePolynomials } from '../../../../src/acoustics/special/legendre.ts'
import {
  sphericalHankelLogDerivatives,
  sphericalHankelRatios,
} from '../../../../src/acoustics/special/spherical-hankel.ts'

const air = makeAir()
const degrees = Math.PI / 180
const frequencyHz = (kR: number, radiusM: number) => (kR * air.speedOfSoundMps) / (2 * Math.PI * radiusM)
const at = (distanceM: number, angleRad: number, roundRad = 0): Point => ({
  xM: distanceM * Math.sin(angleRad) * Math.cos(roundRad),
  yM: distanceM * Math.sin(angleRad) * Math.sin(roundRad),
  zM: distanceM * Math.cos(angleRad),
})
const relativeError = (a: Complex, b: Complex) => Math.hypot(a.re - b.re, a.im - b.im) / magnitude(b)

/** Pressure from the Helmholtz integral over the sphere: ∮ (p ∂G/∂n + jωρ u_r G) dS with G = e^{−jkd}/4πd. */
function helmholtzIntegral(shape: SpherePistonShape, hz: number, place: Point): Complex {
  const radiation = spherePiston(shape, hz, air)
  const k = (2 * Math.PI * hz) / air.speedOfSoundMps
  const { radiusM, capHalfAngleRad, motion } = shape
  const cosRim = Math.cos(capHalfAngleRad)
  const u0 =
    motion === 'radial'
      ? 1 / (2 * Math.PI * radiusM ** 2 * (1 - cosRim))
      : 1 / (Math.PI * radiusM ** 2 * Math.sin(capHalfAngleRad) ** 2)
  const sum = { re: 0, im: 0 }
  const { nodes, weights } = gaussLegendre(120)
  const roundSteps = 96
  for (const [from, to, moves] of [
    [cosRim, 1, true],
    [-1, cosRim, false],
  ] as const) {
    for (let i = 0; i < nodes.length; i++) {
      const cosAngle = (from + to + (to - from) * (nodes[i] as number)) / 2
      const u = moves ? u0 * (motion === 'axial' ? cosAngle : 1) : 0
      const p = radiation.pressureAt(at(radiusM, Math.acos(cosAngle)))
      for (let m = 0; m < roundSteps; m++) {
        const y = at(radiusM, Math.acos(cosAngle), (2 * Math.PI * m) / roundSteps)
        const dx = place.xM - y.xM
        const dy = place.yM - y.yM
        const dz = place.zM - y.zM
        const d = Math.hypot(dx, dy, dz)
        const area = ((weights[i] as number) * ((to - from) / 2) * radiusM ** 2 * 2 * Math.PI) / roundSteps
        const gRe = Math.cos(k * d) / (4 * Math.PI * d)
        const gIm = -Math.sin(k * d) / (4 * Math.PI * d)
        // ∂G/∂n = (jk + 1/d) G cos(angle between the normal and the way to the place)
        const towards = (dx * y.xM + dy * y.yM + dz * y.zM) / (d * radiusM)
        const nRe = towards * (gRe / d - k * gIm)
        const nIm = towards * (gIm / d + k * gRe)
        const source = 2 * Math.PI * hz * air.densityKgM3 * u
        sum.re += area * (p.re * nRe - p.im * nIm - source * gIm)
        sum.im += area * (p.re * nIm + p.im * nRe + source * gRe)
      }
    }
  }
  return sum
}

describe('a cap on a rigid sphere', () => {
  it('radiates the field that the Helmholtz integral finds from its surface, near and far, radial and axial', () => {
    // 2e-4: the surface pressure comes from a series that is cut, and jumps in slope at the rim.
    for (const motion of ['radial', 'axial'] as const) {
      for (const [kR, distanceM, angleRad] of [
        [0.3, 0.5, 2.8],
        [2, 0.4, 0.4],
        [2, 1.5, 2.2],
        [9, 0.6, 1],
      ] as const) {
        const shape: SpherePistonShape = { radiusM: 0.25, capHalfAngleRad: 35 * degrees, motion }
        const hz = frequencyHz(kR, 0.25)
        const place = at(distanceM, angleRad, 0.3)
        const series = spherePiston(shape, hz, air).pressureAt(place)
        expect(relativeError(helmholtzIntegral(shape, hz, place), series), `${motion} kR ${kR}`).toBeLessThan(2e-4)
      }
    }
  })

  it('has the pressure of a point source outside when the whole sphere pulsates', () => {
    const hz = 300
    const radiusM = 0.3
    const kR = (2 * Math.PI * hz * radiusM) / air.speedOfSoundMps
    const sphere = spherePiston({ radiusM, capHalfAngleRad: Math.PI, motion: 'radial' }, hz, air)
    const point = monopole(hz, air)
    // The sphere's velocity is held at its surface: |p| is lower by √(1 + k²R²).
    for (const distanceM of [0.3, 0.5, 7]) {
      const ratio = magnitude(sphere.pressureAt(at(distanceM, 1))) / magnitude(point.pressureAt(at(distanceM, 1)))
      expect(ratio).toBeCloseTo(1 / Math.sqrt(1 + kR * kR), 12)
    }
    expect(sphere.directivityIndexDb).toBeCloseTo(0, 12)
    expect(sphere.farFieldDb(2, 0.3)).toBeCloseTo(0, 12)
  })

  it('sends as much power through a sphere near it as into the far field', () => {
    // Intensity ½ Re(p u*), the radial velocity from p by a central difference: u = −(∂p/∂r)/(jωρ).
    for (const [kR, motion] of [
      [0.2, 'radial'],
      [3, 'axial'],
      [60, 'radial'],
    ] as const) {
      const radiusM = 0.25
      const hz = frequencyHz(kR, radiusM)
      const radiation = spherePiston({ radiusM, capHalfAngleRad: 35 * degrees, motion }, hz, air)
      const r = 1.3 * radiusM
      const step = 1e-4 / Math.max(1, (2 * Math.PI * hz) / air.speedOfSoundMps)
      const { nodes, weights } = gaussLegendre(160)
      let power = 0
      nodes.forEach((cosAngle, i) => {
        const angleRad = Math.acos(cosAngle)
        const p = radiation.pressureAt(at(r, angleRad))
        const above = radiation.pressureAt(at(r + step, angleRad))
        const below = radiation.pressureAt(at(r - step, angleRad))
        const slopeRe = (above.re - below.re) / (2 * step)
        const slopeIm = (above.im - below.im) / (2 * step)
        // Re(p · conj(j slope / ωρ)) / 2
        const intensity = (p.im * slopeRe - p.re * slopeIm) / (2 * 2 * Math.PI * hz * air.densityKgM3)
        power += (weights[i] as number) * intensity * 2 * Math.PI * r * r
      })
      expect(power / radiation.powerW, `kR = ${kR}`).toBeCloseTo(1, 6)
    }
  })

  it('loses 6.02 dB per doubling of distance far away', () => {
    const radiation = spherePiston({ radiusM: 0.25, capHalfAngleRad: 0.4, motion: 'axial' }, 1000, air)
    const near = magnitude(radiation.pressureAt(at(2000, 0.7)))
    const far = magnitude(radiation.pressureAt(at(4000, 0.7)))
    expect(20 * Math.log10(near / far)).toBeCloseTo(20 * Math.log10(2), 3)
  })

  it('has a far field that is the limit of the pressure, in level and in phase', () => {
    const hz = 2000
    const k = (2 * Math.PI * hz) / air.speedOfSoundMps
    const radiation = spherePiston({ radiusM: 0.25, capHalfAngleRad: 0.6, motion: 'axial' }, hz, air)
    for (const angleRad of [0, 1, Math.PI]) {
      const r = 1e5
      const p = radiation.pressureAt(at(r, angleRad))
      const limit = {
        re: r * (p.re * Math.cos(k * r) - p.im * Math.sin(k * r)),
        im: r * (p.re * Math.sin(k * r) + p.im * Math.cos(k * r)),
      }
      expect(relativeError(limit, radiation.farField(Math.cos(angleRad)))).toBeLessThan(1e-4)
    }
  })

  it('is as loud on a small sphere’s far side as in front, and not on a large one’s', () => {
    const shape: SpherePistonShape = { radiusM: 0.25, capHalfAngleRad: 0.5, motion: 'axial' }
    expect(Math.abs(spherePiston(shape, frequencyHz(0.1, 0.25), air).farFieldDb(Math.PI, 0))).toBeLessThan(0.05)
    expect(spherePiston(shape, frequencyHz(8, 0.25), air).farFieldDb(Math.PI, 0)).toBeLessThan(-15)
  })

  it('obeys reciprocity: two caps of different size push on each other alike', () => {
    // Mean pressure on cap B per unit volume velocity of cap A is that on A per unit of B (rest of the sphere rigid).
    const betweenRad = 1.4
    const meanOnOther = (movingRad: number, otherRad: number): Complex => {
      const radiation = spherePiston({ radiusM: 0.25, capHalfAngleRad: movingRad, motion: 'radial' }, 900, air)
      const { nodes, weights } = gaussLegendre(30)
      const sum = { re: 0, im: 0 }
      nodes.forEach((node, i) => {
        const cosAngle = (1 + Math.cos(otherRad) + (1 - Math.cos(otherRad)) * node) / 2
        const sinAngle = Math.sqrt(1 - cosAngle * cosAngle)
        for (let m = 0; m < 40; m++) {
          const roundRad = (2 * Math.PI * m) / 40
          const x = 0.25 * sinAngle * Math.cos(roundRad)
          const z = 0.25 * cosAngle
          const p = radiation.pressureAt({
            xM: x * Math.cos(betweenRad) + z * Math.sin(betweenRad),
            yM: 0.25 * sinAngle * Math.sin(roundRad),
            zM: z * Math.cos(betweenRad) - x * Math.sin(betweenRad),
          })
          sum.re += ((weights[i] as number) / 80) * p.re
          sum.im += ((weights[i] as number) / 80) * p.im
        }
      })
      return sum
    }
    expect(relativeError(meanOnOther(0.3, 0.8), meanOnOther(0.8, 0.3))).toBeLessThan(1e-5)
  })

  it('gives finite numbers from tiny to very large kR', () => {
    for (const kR of [1e-7, 1e-3, 60, 300, 1000]) {
      const radiation = spherePiston(
        { radiusM: 1, capHalfAngleRad: 0.7, motion: 'radial' },
        frequencyHz(kR, 1) * (1 - 1e-12),
        air,
      )
      for (const distanceM of [1, 1.0001, 1.5, 1000]) {
        for (const angleRad of [0, 0.7, Math.PI]) {
          const { re, im } = radiation.pressureAt(at(distanceM, angleRad))
          expect(Number.isFinite(re) && Number.isFinite(im)).toBe(true)
        }
      }
      expect(radiation.powerW).toBeGreaterThan(0)
      expect(Number.isFinite(radiation.directivityIndexDb)).toBe(true)
    }
  })

  it('is on its surface within 1e-5 of the pressure on the cap, and within 0.06 dB near the rim', () => {
    // The reference is the series on the surface itself with 40 000 orders.
    for (const kR of [0.5, 4, 30, 78]) {
      const capHalfAngleRad = 40 * degrees
      const hz = frequencyHz(kR, 0.25)
      const radiation = spherePiston({ radiusM: 0.25, capHalfAngleRad, motion: 'radial' }, hz, air)
      const orders = 40_000
      const u = capVelocityCoefficients(capHalfAngleRad, 'radial', orders)
      const slopes = sphericalHankelLogDerivatives(sphericalHankelRatios(kR, orders), kR)
      const series = (angleDegrees: number): Complex => {
        const sum = { re: 0, im: 0 }
        legendrePolynomials(orders, Math.cos(angleDegrees * degrees)).forEach((p, n) => {
          // −jρc U_n P_n / (R² L_n)
          const re = slopes.re[n] as number
          const im = slopes.im[n] as number
          const part = (air.densityKgM3 * air.speedOfSoundMps * (u[n] as number) * p) / (0.0625 * (re * re + im * im))
          sum.re -= part * im
          sum.im -= part * re
        })
        return sum
      }
      const onCap = magnitude(series(0))
      for (const angleDegrees of [0, 20, 34, 39, 40, 41, 46, 60, 120, 180]) {
        const expected = series(angleDegrees)
        const got = radiation.pressureAt(at(0.25, angleDegrees * degrees))
        const name = `kR = ${kR}, ${angleDegrees}°`
        if (Math.abs(angleDegrees - 40) <= 1) {
          expect(Math.abs(20 * Math.log10(magnitude(got) / magnitude(expected))), name).toBeLessThan(0.06)
        } else {
          expect(Math.hypot(got.re - expected.re, got.im - expected.im) / onCap, name).toBeLessThan(1e-5)
        }
      }
    }
  })

  it('refuses places inside, broken shapes and kR above 1000', () => {
    const shape: SpherePistonShape = { radiusM: 0.25, capHalfAngleRad: 0.5, motion: 'axial' }
    const radiation = spherePiston(shape, 100, air)
    expect(() => radiation.pressureAt(at(0.24, 0))).toThrow(/distance from the centre of the sphere is 0.24/)
    expect(() => radiation.pressureAt(at(Number.NaN, 0))).toThrow(RangeError)
    expect(() => radiation.farFieldDb(Number.NaN, 0)).toThrow(/horizontalRad/)
    expect(() => spherePiston({ ...shape, capHalfAngleRad: 0 }, 100, air)).toThrow(/capHalfAngleRad is 0/)
    expect(() => spherePiston({ ...shape, capHalfAngleRad: Math.PI }, 100, air)).toThrow(RangeError)
    expect(() => spherePiston({ ...shape, motion: 'sideways' as 'axial' }, 100, air)).toThrow(/motion is sideways/)
    expect(() => spherePiston(shape, 0, air)).toThrow(/frequencyHz is 0/)
    expect(() => spherePiston(shape, Number.NaN, air)).toThrow(RangeError)
    expect(() => spherePiston(shape, frequencyHz(1001, 0.25), air)).toThrow(/kR/)
    expect(() => spherePiston(shape, 100, { ...air, densityKgM3: 0 })).toThrow(/densityKgM3/)
  })

  it('uses the speed and density of the air that it is given', () => {
    const shape: SpherePistonShape = { radiusM: 0.25, capHalfAngleRad: 0.5, motion: 'axial' }
    const dense = spherePiston(shape, 500, { ...air, densityKgM3: 2 * air.densityKgM3 })
    const usual = spherePiston(shape, 500, air)
    expect(dense.powerW / usual.powerW).toBeCloseTo(2, 12)
    const fast = spherePiston(shape, 1000, { ...air, speedOfSoundMps: 2 * air.speedOfSoundMps })
    expect(fast.farFieldDb(1, 0)).toBeCloseTo(usual.farFieldDb(1, 0), 12)
  })
})

describe('velocity coefficients of a cap', () => {
  it('equal the quadrature of the velocity times P_n', () => {
    const { nodes, weights } = gaussLegendre(60)
    for (const motion of ['radial', 'axial'] as const) {
      for (const capHalfAngleRad of [0.01, 0.7, 2.5]) {
        const cosRim = Math.cos(capHalfAngleRad)
        const moments = new Float64Array(31)
        let flow = 0
        nodes.forEach((node, i) => {
          const x = (1 + cosRim + (1 - cosRim) * node) / 2
          const share = (weights[i] as number) * (motion === 'axial' ? x : 1)
          flow += share
          legendrePolynomials(30, x).forEach((p, n) => {
            moments[n] = (moments[n] as number) + share * p
          })
        })
        const u = capVelocityCoefficients(capHalfAngleRad, motion, 30)
        u.forEach((value, n) => {
          const expected = ((2 * n + 1) / 2) * ((moments[n] as number) / (2 * Math.PI * flow))
          expect(value, `${motion} ${capHalfAngleRad} n = ${n}`).toBeCloseTo(expected, 10)
        })
      }
    }
  })

  it('are 2n + 1 times the first for a cap that is a point, without loss of digits', () => {
    capVelocityCoefficients(1e-9, 'radial', 50).forEach((value, n) => {
      expect((4 * Math.PI * value) / (2 * n + 1)).toBeCloseTo(1, 12)
    })
  })

  it('vanish above n = 0 for a pulsating sphere', () => {
    const u = capVelocityCoefficients(Math.PI, 'radial', 200)
    expect(4 * Math.PI * (u[0] as number)).toBeCloseTo(1, 15)
    for (const value of u.subarray(1)) expect(Math.abs(value)).toBe(0)
  })
})
