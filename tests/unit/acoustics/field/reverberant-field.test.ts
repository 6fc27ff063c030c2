import { describe, expect, it } from 'vitest'
import {
  criticalDistanceM,
  decayTimeS,
  furnishedHall,
  type Hall,
  type HallSurface,
  hallSurfaces,
  joiningFrequencyHz,
  makeAir,
  octaveTable,
  reverberantLevelDb,
} from '../../../../src/acoustics/index.ts'

const air = makeAir()
const size = { lengthM: 18, widthM: 11, heightM: 4.6 }
const hall = (absorption: number): Hall => ({ ...size, absorption: () => absorption })
const surfaceM2 = 662.8

describe('reverberant field', () => {
  it('is 10 lg(4(1 − α)/(Sα)) with ρc at low frequencies, where the air absorbs next to nothing', () => {
    const expected =
      100 + 10 * Math.log10((4 * 0.85) / (0.15 * surfaceM2)) + 10 * Math.log10((air.densityKgM3 * 343.2) / 400)
    expect(reverberantLevelDb(100, hall(0.15), 50, air)).toBeCloseTo(expected, 2)
  })
  it('loses to the air at high frequencies', () => {
    expect(reverberantLevelDb(100, hall(0.05), 8000, air)).toBeLessThan(
      reverberantLevelDb(100, hall(0.05), 500, air) - 3,
    )
  })
  it('is nothing where nothing comes back', () => {
    expect(reverberantLevelDb(100, hall(1), 500, air)).toBe(-Infinity)
    expect(criticalDistanceM(0, hall(1), 500, air)).toBe(Infinity)
    expect(decayTimeS(hall(1), 500, air)).toBe(0)
  })
  it('a 6 dB higher directivity index doubles the critical distance', () => {
    const ratio = criticalDistanceM(20 * Math.log10(2), hall(0.2), 500, air) / criticalDistanceM(0, hall(0.2), 500, air)
    expect(ratio).toBeCloseTo(2, 9)
  })
  it('Eyring decays faster than Sabine, and both alike in a hard hall', () => {
    expect(decayTimeS(hall(0.4), 125, air)).toBeLessThan(decayTimeS(hall(0.4), 125, air, 'sabine'))
    expect(decayTimeS(hall(0.001), 63, air) / decayTimeS(hall(0.001), 63, air, 'sabine')).toBeCloseTo(1, 3)
  })
  it('joins where 2000 √(T/V) meets the frequency', () => {
    const table = octaveTable([63, 125, 250], [0.3, 0.2, 0.05])
    const joiningHz = joiningFrequencyHz({ ...size, absorption: table }, air)
    const decay = decayTimeS({ ...size, absorption: table }, joiningHz, air)
    expect(2000 * Math.sqrt(decay / 910.8)).toBeCloseTo(joiningHz, 6)
    expect(joiningFrequencyHz(hall(1), air)).toBe(20)
  })
  it('refuses values out of range', () => {
    for (const value of [-0.1, 1.1, Number.NaN]) {
      expect(() => reverberantLevelDb(100, hall(value), 500, air)).toThrow(`hall.absorption at 500 Hz is ${value}`)
    }
    expect(() => reverberantLevelDb(Number.NaN, hall(0.1), 500, air)).toThrow('powerLevelDb is NaN')
    expect(() => criticalDistanceM(Infinity, hall(0.1), 500, air)).toThrow('directivityIndexDb is Infinity')
    expect(() => decayTimeS({ ...hall(0.1), widthM: 0 }, 500, air)).toThrow('hall.widthM is 0')
    expect(() => decayTimeS(hall(0.1), 0, air)).toThrow('frequencyHz is 0')
  })
})

describe('a furnished hall', () => {
  const finish = (value: number) =>
    Object.fromEntries(hallSurfaces.map((surface) => [surface, () => value])) as Record<HallSurface, () => number>
  it('has the mean of its surfaces, people spread over the floor', () => {
    const bare = furnishedHall(size, { ...finish(0.1), ceiling: () => 0.4 })
    expect(bare.absorption(500)).toBeCloseTo(0.1 + (0.3 * 198) / surfaceM2, 12)
    const full = furnishedHall(size, finish(0.1), () => 60)
    expect(full.absorption(500)).toBeCloseTo(0.1 + 60 / surfaceM2, 12)
    expect(full.surfaces?.floor(500)).toBeCloseTo(0.1 + 60 / 198, 12)
  })
  it('refuses coefficients outside 0 … 1 and people who absorb more than the floor has', () => {
    expect(() => furnishedHall(size, finish(1.2)).absorption(500)).toThrow('absorption of wallLeft at 500 Hz is 1.2')
    expect(() => furnishedHall(size, finish(0.1), () => 190).absorption(500)).toThrow(
      'absorption of floor, people and things',
    )
    expect(() => furnishedHall(size, finish(0.1), () => -1).absorption(500)).toThrow('objectsM2 at 500 Hz is -1')
  })
})

describe('a table by octave', () => {
  const table = octaveTable([125, 250, 500], [0.1, 0.2, 0.6])
  it('is straight over lg f and level beyond its ends', () => {
    expect(table(125)).toBe(0.1)
    expect(table(125 * Math.SQRT2)).toBeCloseTo(0.15, 12)
    expect(table(30)).toBe(0.1)
    expect(table(9000)).toBe(0.6)
  })
  it('refuses what is no table', () => {
    expect(() => octaveTable([125, 125], [0, 0])).toThrow('frequenciesHz[1] is 125')
    expect(() => octaveTable([125], [0, 1])).toThrow('values.length is 2')
    expect(() => octaveTable([], [])).toThrow('values.length is 0')
    expect(() => table(0)).toThrow('frequencyHz is 0')
  })
})
