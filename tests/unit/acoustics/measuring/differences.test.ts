import { describe, expect, test } from 'vitest'
import { withoutBackground } from '../../../../src/acoustics/measuring/background.ts'
import { bandAverages } from '../../../../src/acoustics/measuring/band-averages.ts'
import { certain, combinedError, type Estimate, halfIntervalDb } from '../../../../src/acoustics/measuring/estimate.ts'
import { leftOutBlocks, levelChangeDb } from '../../../../src/acoustics/measuring/left-out.ts'
import {
  distanceStepDb,
  enteredLevels,
  levelDifference,
  rangeDifference,
} from '../../../../src/acoustics/measuring/level-difference.ts'
import { levelStretches } from '../../../../src/acoustics/measuring/level-steps.ts'
import { recordingBands } from '../../../../src/acoustics/measuring/recording-bands.ts'
import { explainedDips, reflectionPaths } from '../../../../src/acoustics/measuring/reflection-paths.ts'
import { makeAir } from '../../../../src/acoustics/medium/air.ts'
import { analysed, noise } from './noise.ts'

const sure = (levelDb: number, errorDb = 0): Estimate => ({ levelDb, errorDb, freedom: certain })

describe('a level without its background', () => {
  test.each([
    [12, 'clear'],
    [10, 'clear'],
    [9.9, 'corrected'],
    [6, 'corrected'],
    [5.9, 'weak'],
    [3, 'weak'],
    [2.9, 'not-measured'],
    [-5, 'not-measured'],
  ])('%d dB above it is %s', (marginDb, standing) => {
    const freed = withoutBackground(sure(70), sure(70 - marginDb))
    expect(freed.standing).toBe(standing)
    expect(freed.estimate === null).toBe(standing === 'not-measured')
  })

  test('gives back what was added to it', () => {
    for (const levelDb of [63, 70, 85]) {
      const total = 10 * Math.log10(10 ** (levelDb / 10) + 10 ** 6)
      expect(withoutBackground(sure(total), sure(60)).estimate?.levelDb).toBeCloseTo(levelDb, 10)
    }
  })

  test('is less sure the smaller the margin', () => {
    const errors = [20, 10, 6, 3].map(
      (margin) => withoutBackground(sure(70, 0.2), sure(70 - margin, 0.2)).estimate?.errorDb ?? 0,
    )
    for (let i = 1; i < errors.length; i++) expect(errors[i]).toBeGreaterThan(errors[i - 1] as number)
    // Half of the power is background: the error of the total counts twice, that of the background as it is.
    const [total, background, wander] = [0.4, 0.2, 0.5]
    expect(withoutBackground(sure(70, 0.2), sure(70 - 10 * Math.log10(2), 0.2)).estimate?.errorDb).toBeCloseTo(
      Math.hypot(total, background, wander),
      6,
    )
  })
})

describe('front less behind', () => {
  const place = (levelDb: number, errorDb = 0) => ({
    levels: enteredLevels(
      recordingBands.map(() => levelDb),
      errorDb,
    ),
  })

  test('takes off the offset, the microphones and, on request, the distance', () => {
    const offset = enteredLevels(
      recordingBands.map(() => 2),
      0,
    )
    const microphone = { frequenciesHz: [20, 20000], levelsDb: [1, 1] }
    const plain = levelDifference({ front: place(80), behind: place(74) })
    expect(plain.every(({ difference }) => difference?.levelDb === 6)).toBe(true)
    const freed = levelDifference({
      front: { ...place(80), microphone },
      behind: place(74),
      offset,
      bringTogether: { frontM: 4, behindM: 8 },
    })
    for (const { difference } of freed)
      expect(difference?.levelDb).toBeCloseTo(80 - 1 - (74 - 2 + 20 * Math.log10(2)), 10)
  })

  test('combines the errors of both and of the offset', () => {
    const offset = enteredLevels(
      recordingBands.map(() => 0),
      0.2,
    )
    const [band] = levelDifference({ front: place(80, 0.3), behind: place(74, 0.6), offset })
    expect(band?.difference?.errorDb).toBeCloseTo(0.7, 10)
  })

  test('of a range sums the powers, and needs two thirds of the bands', () => {
    const levels = recordingBands.map(({ nominalHz }) => (nominalHz === 63 ? 90 : 60))
    const bands = levelDifference({
      front: { levels: enteredLevels(levels, 0.3) },
      behind: {
        levels: enteredLevels(
          levels.map((level) => (level === 90 ? 80 : 60)),
          0.3,
        ),
      },
    })
    const range = rangeDifference(bands, { from: 40, to: 160 })
    const summed = (loudest: number) => 10 * Math.log10(10 ** (loudest / 10) + 6 * 10 ** 6)
    expect(range?.difference.levelDb).toBeCloseTo(summed(90) - summed(80), 10)
    expect(range).toMatchObject({ measured: 7, of: 7 })
    // One band carries nearly all of the power, so that the error is nearly that of its own difference.
    expect(range?.difference.errorDb).toBeGreaterThan(0.38)
    const lost = bands.map((band) => (band.nominalHz < 63 ? { ...band, levels: null, difference: null } : band))
    expect(rangeDifference(lost, { from: 40, to: 160 })?.measured).toBe(5)
    const tooFew = bands.map((band) => (band.nominalHz < 80 ? { ...band, levels: null, difference: null } : band))
    expect(rangeDifference(tooFew, { from: 40, to: 160 })).toBeNull()
    expect(() => rangeDifference(bands, { from: 41, to: 42 })).toThrow(/number of bands/)
  })

  test('a distance out of range is refused by name', () => {
    expect(distanceStepDb({ frontM: 5, behindM: 5 })).toBe(0)
    expect(() => distanceStepDb({ frontM: 0, behindM: 5 })).toThrow(/frontM is 0; allowed is .*0.1 to 1000 m/)
  })
})

describe('errors', () => {
  test('add as squares, and their freedom is that of Welch and Satterthwaite', () => {
    const both = combinedError([
      { errorDb: 3, freedom: 9 },
      { errorDb: 4, freedom: certain },
    ])
    expect(both.errorDb).toBeCloseTo(5, 12)
    expect(both.freedom).toBeCloseTo(625 / (81 / 9), 4)
    expect(combinedError([])).toEqual({ errorDb: 0, freedom: certain })
    expect(halfIntervalDb({ errorDb: 1, freedom: certain })).toBeCloseTo(1.96, 3)
    expect(halfIntervalDb({ errorDb: 1, freedom: 4 })).toBeCloseTo(2.776, 2)
  })
})

describe('volume', () => {
  const sampleRateHz = 8000
  const take = (seed: number, gain: number) => {
    const samples = noise({ length: 2 ** 18, sampleRateHz, seed }).map((sample) => sample * gain)
    const levels = analysed([samples], sampleRateHz)
    return { levels, channel: 0, kept: leftOutBlocks(levels).kept }
  }

  test.each([1, 2, 3, 4, 5])('that was changed between two takes is found, and only then, set %i', (seed) => {
    const first = take(seed, 1)
    expect(levelChangeDb(first, take(seed + 50, 1))?.isDistinct).toBe(false)
    const changed = levelChangeDb(first, take(seed + 50, 10 ** (1.5 / 20)))
    expect(changed?.isDistinct).toBe(true)
    expect(Math.abs((changed?.changeDb ?? 0) - 1.5)).toBeLessThan(0.3)
  })

  test('steps of a long series are found within a few blocks', () => {
    const series = Array.from({ length: 1500 }, (_, i) => (i < 700 ? 0 : 2) + 0.3 * Math.sin(i * i))
    const [first, second, ...more] = levelStretches(series)
    expect(more).toEqual([])
    expect(Math.abs((first?.to ?? 0) - 700)).toBeLessThanOrEqual(4)
    expect(second?.to).toBe(1500)
  })
})

describe('entered ways', () => {
  test('are as long as their mirror images make them', () => {
    const paths = reflectionPaths({
      sourceHeightM: 1.5,
      boxDepthM: 0.6,
      wallBehindBoxM: 2,
      front: { distanceM: 4, heightM: 1.5, wallBesideM: 3 },
      behind: { distanceM: 4, heightM: 0, wallBeyondM: 0.7 },
    })
    const found = Object.fromEntries(paths.map(({ place, cause, extraM }) => [`${place} ${cause}`, extraM]))
    // Right triangles of 3, 4 and 5, and of 4, 6 and √52.
    expect(found['front floor']).toBeCloseTo(1, 12)
    expect(found['front wall-beside']).toBeCloseTo(Math.sqrt(52) - 4, 12)
    expect(found['front wall-behind-box']).toBe(4)
    expect(found['behind wall-beyond']).toBeCloseTo(1.4, 12)
    expect(found['behind box-depth']).toBe(0.6)
    // A microphone on the floor has no floor reflection of its own.
    expect(found['behind floor']).toBeUndefined()
    expect(() => reflectionPaths({ front: { distanceM: 4, heightM: -1 }, behind: { distanceM: 4 } })).toThrow(
      /heightM is -1/,
    )
  })

  test('a dip of a high order alone fits nothing', () => {
    const air = makeAir({ temperatureC: 20 })
    const [path] = reflectionPaths({ front: { distanceM: 4 }, behind: { distanceM: 4, wallBeyondM: 0.727 } })
    const at = (frequencyHz: number) => ({ place: 'behind' as const, frequencyHz, depthDb: 8 })
    const fits = (frequencies: number[]) =>
      explainedDips(frequencies.map(at), path ? [path] : [], air).map((dip) => dip.fits?.order ?? null)
    expect(fits([118])).toEqual([0])
    expect(fits([354])).toEqual([null])
    expect(fits([118, 354, 590, 826])).toEqual([0, 1, 2, 3])
    expect(fits([90])).toEqual([null])
  })

  test('where a known way lifts one place, the other does not seem to have a dip; beside that it does', () => {
    const air = makeAir({ temperatureC: 20 })
    const extraM = 1.4
    const path = { place: 'behind' as const, cause: 'wall-beyond' as const, extraM, directM: 2.5 }
    const dip = (place: 'front' | 'behind', frequencyHz: number) => ({ place, frequencyHz, depthDb: 6 })
    const combHz = [1, 3, 5].map((odd) => (odd * 343.2) / (2 * extraM))
    const known = combHz.map((frequencyHz) => dip('behind', frequencyHz))
    const left = (frequencyHz: number) =>
      explainedDips([...known, dip('front', frequencyHz)], [path], air)
        .filter(({ place }) => place === 'front')
        .map(({ fits }) => fits)
    const riseHz = 343.2 / extraM
    expect(left(riseHz)).toEqual([])
    // On a slope the highest place of a rise lies beside its middle, by less than a sixth of a turn.
    expect(left(riseHz * (1 - 0.16))).toEqual([])
    expect(left(riseHz * (1 + 0.16))).toEqual([])
    expect(left(riseHz * (1 - 0.2))).toEqual([null])
    expect(left(riseHz * (1 + 0.2))).toEqual([null])
    // Without the way that lifts it is a dip like any other.
    expect(explainedDips([dip('front', riseHz)], [path], air)).toHaveLength(1)
  })
})

test('an average with few blocks or a silent band has no estimate', () => {
  const levels = analysed([noise({ length: 8000 * 3, sampleRateHz: 8000, seed: 1 })], 8000)
  expect(bandAverages(levels, 0).estimates.every((estimate) => estimate === null)).toBe(true)
  expect(() => bandAverages(levels, 1)).toThrow(/channel is 1; allowed is .*0 to 0/)
})
