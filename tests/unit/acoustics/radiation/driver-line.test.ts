import { describe, expect, test } from 'vitest'
import { magnitude } from '../../../../src/acoustics/complex.ts'
import { makeAir } from '../../../../src/acoustics/medium/air.ts'
import {
  checkDriverLine,
  driverLine,
  equalGirthRadiusM,
  furtherBeamsRad,
  hankelSlopes,
  lineArrayFactor,
} from '../../../../src/acoustics/radiation/driver-line.ts'
import { monopole } from '../../../../src/acoustics/radiation/monopole.ts'
import { solveCabinet } from '../../../../src/acoustics/radiation/solve-cabinet.ts'

const air = makeAir()
const degree = Math.PI / 180
const demo = { count: 8, spacingM: 0.1125, driverRadiusM: 0.032, columnRadiusM: equalGirthRadiusM(0.11, 0.12) }
const oneMetreHz = air.speedOfSoundMps

describe('the array factor', () => {
  test('is the mean of the sources’ phases', () => {
    for (const count of [1, 2, 3, 8, 24]) {
      for (const angleDeg of [-70, -5, 0, 12, 47, 90]) {
        const psi = 2 * Math.PI * 0.62 * Math.sin(angleDeg * degree)
        let sum = 0
        for (let n = 0; n < count; n++) sum += Math.cos(psi * (n - (count - 1) / 2)) / count
        expect(lineArrayFactor(count, 0.62, oneMetreHz, angleDeg * degree, air)).toBeCloseTo(sum, 12)
      }
    }
  })

  test('is 1 at broadside, for one source, and for sources in one place', () => {
    expect(lineArrayFactor(9, 0.3, 800, 0, air)).toBe(1)
    expect(lineArrayFactor(1, 0.3, 800, 1, air)).toBeCloseTo(1, 12)
    expect(lineArrayFactor(9, 0, 800, 1, air)).toBe(1)
  })

  test('is ±1 again in every further beam, with the sign of an even row turned', () => {
    expect(lineArrayFactor(4, 1, oneMetreHz, Math.PI / 2, air)).toBeCloseTo(-1, 9)
    expect(lineArrayFactor(5, 1, oneMetreHz, Math.PI / 2, air)).toBeCloseTo(1, 9)
    expect(lineArrayFactor(4, 2, oneMetreHz, Math.PI / 2, air)).toBeCloseTo(1, 9)
  })
})

describe('further beams', () => {
  test('are none below a spacing of one wavelength, then one, then two', () => {
    expect(furtherBeamsRad(0.99, oneMetreHz, air)).toEqual([])
    expect(furtherBeamsRad(1.01, oneMetreHz, air)).toHaveLength(1)
    const [first, second] = furtherBeamsRad(2.5, oneMetreHz, air)
    expect(Math.sin(first ?? 0)).toBeCloseTo(0.4, 12)
    expect(Math.sin(second ?? 0)).toBeCloseTo(0.8, 12)
  })
})

describe('Hankel slopes', () => {
  test('satisfy the Wronskian J Y′ − J′ Y = 2/πx through the recurrence of the slopes', () => {
    // C_{n−1}′ − C_{n+1}′ = 2 C_n″, and Bessel’s equation turns it into values; orders 0 and 1 give all that is needed.
    for (const x of [1e-3, 0.5, 5, 40, 180]) {
      const { re, im } = hankelSlopes(x, 1)
      const [j1, y1] = [-(re[0] as number), im[0] as number]
      const [j1Slope, y1Slope] = [re[1] as number, -(im[1] as number)]
      expect(((j1 * y1Slope - j1Slope * y1) * Math.PI * x) / 2).toBeCloseTo(1, 10)
    }
  })
  test('have a lowest and a highest argument', () => {
    expect(() => hankelSlopes(1e-5, 3)).toThrow(RangeError)
    expect(() => hankelSlopes(201, 3)).toThrow(RangeError)
    expect(() => hankelSlopes(1, 401)).toThrow(RangeError)
    expect(hankelSlopes(200, 400).re.every(Number.isFinite)).toBe(true)
    expect(hankelSlopes(1e-4, 30).im.every(Number.isFinite)).toBe(true)
  })
})

describe('a line of drivers', () => {
  test('is a point source at low frequencies, in level far away', () => {
    const far = { xM: 300, yM: 400, zM: 1200 }
    const ratio = magnitude(driverLine(demo, 5, air).pressureAt(far)) / magnitude(monopole(5, air).pressureAt(far))
    expect(20 * Math.log10(ratio)).toBeCloseTo(0, 2)
  })

  test('has the array factor times the driver’s own pattern as its far field, and the pressure far away agrees', () => {
    const line = driverLine(demo, 1000, air)
    const one = driverLine({ ...demo, count: 1 }, 1000, air)
    const axis = magnitude(line.pressureAt({ xM: 0, yM: 0, zM: 5000 }))
    for (const upDeg of [0, 10, 30, 75]) {
      const factor = Math.abs(lineArrayFactor(8, 0.1125, 1000, upDeg * degree, air))
      const levelDb = line.farFieldDb(0, upDeg * degree)
      expect(levelDb).toBeCloseTo(one.farFieldDb(0, upDeg * degree) + 20 * Math.log10(factor), 9)
      const point = { xM: 0, yM: 5000 * Math.sin(upDeg * degree), zM: 5000 * Math.cos(upDeg * degree) }
      expect(20 * Math.log10(magnitude(line.pressureAt(point)) / axis)).toBeCloseTo(levelDb, 1)
    }
  })

  test('is the same left and right, up and down, and over the top as round the side straight behind', () => {
    const line = driverLine(demo, 1600, air)
    expect(line.farFieldDb(-0.7, 0.3)).toBeCloseTo(line.farFieldDb(0.7, -0.3), 12)
    expect(line.farFieldDb(0, Math.PI)).toBeCloseTo(line.farFieldDb(Math.PI, 0), 9)
    expect(line.farFieldDb(0, 0)).toBe(0)
    const [left, right] = [-1, 1].map((xM) => line.pressureAt({ xM, yM: 0.4, zM: 0.5 }))
    expect(left).toEqual(right)
  })

  test('read off a table it differs by less than 0.05 dB where it is within 20 dB of its axis', () => {
    for (const frequencyHz of [100, 1000, 8000]) {
      const exact = driverLine(demo, frequencyHz, air)
      const table = driverLine(demo, frequencyHz, air, { tabulated: true })
      for (let deg = 0.3; deg < 180; deg += 7.1) {
        for (const [h, v] of [
          [deg, 0],
          [0, deg],
        ] as const) {
          const expected = exact.farFieldDb(h * degree, v * degree)
          if (expected > -20)
            expect(
              Math.abs(table.farFieldDb(h * degree, v * degree) - expected),
              `${frequencyHz} ${h} ${v}`,
            ).toBeLessThan(0.05)
        }
      }
    }
  })

  test('of eight drivers is within 1.5 dB of its solved box up to 1 kHz, all round', () => {
    const drivers = Array.from({ length: 8 }, (_, index) => ({
      kind: 'piston' as const,
      radiusM: 0.032,
      xM: 0,
      yM: (index - 3.5) * 0.1125,
    }))
    for (const frequencyHz of [125, 500, 1000]) {
      const box = solveCabinet({ widthM: 0.11, heightM: 0.9, depthM: 0.12, drivers }, frequencyHz, air)
      const line = driverLine(demo, frequencyHz, air)
      for (const deg of [45, 90, 135, 180]) {
        const difference = line.farFieldDb(deg * degree, 0) - box.farFieldDb(deg * degree, 0)
        expect(Math.abs(difference), `${frequencyHz} Hz, ${deg}°: ${difference.toFixed(2)} dB`).toBeLessThan(1.5)
      }
    }
  })

  test('is refused inside its body, and with drivers that do not fit', () => {
    expect(() => driverLine(demo, 1000, air).pressureAt({ xM: 0, yM: 0, zM: -0.07 })).toThrow(/axis of the column/)
    expect(() => checkDriverLine({ ...demo, driverRadiusM: 0.06 })).toThrow(/driverRadiusM is 0.06/)
    expect(() => checkDriverLine({ ...demo, count: 65 })).toThrow(/count is 65/)
    expect(() => checkDriverLine({ ...demo, spacingM: Number.NaN })).toThrow(/spacingM is NaN/)
    expect(() => driverLine(demo, 0, air)).toThrow(/frequencyHz is 0/)
    expect(() => driverLine(demo, 2e5, air)).toThrow(/ka/)
    expect(() => equalGirthRadiusM(0, 0.1)).toThrow(/widthM is 0/)
  })
})
