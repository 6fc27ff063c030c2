import { describe, expect, it } from 'vitest'
import { makeAir } from '../../../../src/acoustics/medium/air.ts'
import type { HornMouth } from '../../../../src/acoustics/radiation/cabinet.ts'
import { hornMouthPattern } from '../../../../src/acoustics/radiation/horn-mouth.ts'
import { uniformLineDb } from '../../../../src/acoustics/radiation/uniform-line.ts'

const air = makeAir()
const degree = Math.PI / 180
const mouth: HornMouth = {
  mouthWidthM: 0.26,
  mouthHeightM: 0.17,
  horizontalCoverageRad: 90 * degree,
  verticalCoverageRad: 60 * degree,
}
const flat = { ...mouth, horizontalCoverageRad: 0, verticalCoverageRad: 0 }
const levelDb = (shape: HornMouth, frequencyHz: number, h: number, v = 0) => {
  const { re, im } = hornMouthPattern(shape, frequencyHz, air)(h, v)
  return 20 * Math.log10(Math.hypot(re, im))
}

describe('a horn mouth in a baffle', () => {
  it('is 1 with no phase straight ahead', () => {
    const { re, im } = hornMouthPattern(mouth, 4000, air)(0, 0)
    expect(re).toBeCloseTo(1, 12)
    expect(im).toBeCloseTo(0, 12)
  })

  it('is the product of two uniform lines when its wavefront is flat', () => {
    expect(levelDb(flat, 3000, 0.4)).toBeCloseTo(uniformLineDb(0.26, 3000, 0.4, air), 9)
    expect(levelDb(flat, 3000, 0, 0.4)).toBeCloseTo(uniformLineDb(0.17, 3000, 0.4, air), 9)
  })

  it('joins the flat wavefront without a step as the coverage goes to 0', () => {
    const nearlyFlat = { ...mouth, horizontalCoverageRad: 1e-6, verticalCoverageRad: 1e-6 }
    expect(levelDb(nearlyFlat, 5000, 0.7, 0.2)).toBeCloseTo(levelDb(flat, 5000, 0.7, 0.2), 4)
  })

  it('plays all directions in front alike when the wave is long', () => {
    expect(levelDb(mouth, 20, Math.PI / 2)).toBeCloseTo(0, 2)
    expect(levelDb(mouth, 20, 0.3, -Math.PI / 2)).toBeCloseTo(0, 2)
  })

  it('is even to left and right, up and down', () => {
    expect(levelDb(mouth, 2500, 0.5, 0.3)).toBeCloseTo(levelDb(mouth, 2500, -0.5, -0.3), 10)
  })

  it('depends on the mouth in wavelengths alone', () => {
    const larger = { ...mouth, mouthWidthM: 2.6, mouthHeightM: 1.7 }
    expect(levelDb(larger, 250, 0.8, 0.1)).toBeCloseTo(levelDb(mouth, 2500, 0.8, 0.1), 9)
  })

  it('has a horizontal plane in which its height and vertical coverage do not show', () => {
    const taller = { ...mouth, mouthHeightM: 0.6, verticalCoverageRad: 0.2 }
    expect(levelDb(taller, 2500, 0.8)).toBeCloseTo(levelDb(mouth, 2500, 0.8), 10)
  })

  it('agrees with a plain sum over the mouth, both sides and both planes at once', () => {
    const k = (2 * Math.PI * 3000) / air.speedOfSoundMps
    const [h, v] = [0.6, 0.35]
    const steps = 400
    const sum = (sineAcross: number, sineUp: number) => {
      let [re, im] = [0, 0]
      for (let i = 0; i < steps; i++) {
        for (let j = 0; j < steps; j++) {
          const x = ((i + 0.5) / steps - 0.5) * mouth.mouthWidthM
          const y = ((j + 0.5) / steps - 0.5) * mouth.mouthHeightM
          const a = mouth.mouthWidthM / 2 / Math.tan(mouth.horizontalCoverageRad / 2)
          const b = mouth.mouthHeightM / 2 / Math.tan(mouth.verticalCoverageRad / 2)
          const amplitude = (a / Math.hypot(a, x)) ** 1.5 * (b / Math.hypot(b, y)) ** 1.5
          const phase = -k * (Math.hypot(a, x) - a + Math.hypot(b, y) - b) + k * (x * sineAcross + y * sineUp)
          re += amplitude * Math.cos(phase)
          im += amplitude * Math.sin(phase)
        }
      }
      return Math.hypot(re, im)
    }
    const expected = 20 * Math.log10(sum(Math.sin(h) * Math.cos(v), Math.sin(v)) / sum(0, 0))
    // 400 midpoints a side leave an error of the order of (k w / 400)² / 24.
    expect(levelDb(mouth, 3000, h, v)).toBeCloseTo(expected, 3)
  })

  it('refuses what it is not made for, by name', () => {
    expect(() => hornMouthPattern({ ...mouth, mouthWidthM: 0 }, 1000, air)).toThrow(/mouthWidthM is 0/)
    expect(() => hornMouthPattern({ ...mouth, mouthHeightM: Number.NaN }, 1000, air)).toThrow(/mouthHeightM is NaN/)
    expect(() => hornMouthPattern({ ...mouth, horizontalCoverageRad: 2.81 }, 1000, air)).toThrow(
      /horizontalCoverageRad is 2.81; allowed is a finite number from 0 to 2.8 rad/,
    )
    expect(() => hornMouthPattern({ ...mouth, verticalCoverageRad: -0.1 }, 1000, air)).toThrow(/verticalCoverageRad/)
    expect(() => hornMouthPattern(mouth, 0, air)).toThrow(/frequencyHz is 0/)
    expect(() => hornMouthPattern({ ...mouth, mouthWidthM: 100 }, 1e6, air)).toThrow(/over the wavelength/)
    expect(() => hornMouthPattern(mouth, 1000, air)(1.6, 0)).toThrow(/horizontalRad is 1.6/)
    expect(() => hornMouthPattern(mouth, 1000, air)(0, Number.POSITIVE_INFINITY)).toThrow(/verticalRad/)
  })
})
