import { describe, expect, test } from 'vitest'
import { thirdOctaveBands } from '../../../../src/acoustics/bands/octave-bands.ts'
import { findArrivals } from '../../../../src/acoustics/measuring/first-reflection.ts'
import {
  boxOrHall,
  cutBeforeReflection,
  measuredLevelsDb,
  noiseScatterDb,
} from '../../../../src/acoustics/measuring/impulse-cut.ts'
import { impulseLevelsDb } from '../../../../src/acoustics/measuring/impulse-levels.ts'
import { added, convolved, whiteNoise } from './by-hand.ts'

const sampleRateHz = 48000
const directAt = 4800
/** What a small box sends: a pulse that rings a little at 900 Hz. */
const box = Float64Array.from(
  { length: 480 },
  (_, n) => (n === 0 ? 1 : 0) + 0.08 * Math.exp(-n / 40) * Math.sin((2 * Math.PI * 900 * n) / sampleRateHz),
)
const arriving = (...arrivals: [afterMs: number, gain: number][]) => {
  const taps = new Float64Array(12000)
  taps[directAt] = 1
  for (const [afterMs, gain] of arrivals) taps[directAt + Math.round(afterMs * 48)] = gain
  return convolved(taps, box)
}

describe('the first reflection', () => {
  test.each([
    [3, 0.8],
    [5, -0.5],
    [8.5, 0.3],
    [14, 0.15],
  ])('%f ms after the direct sound is found, at %f of its strength', (afterMs, gain) => {
    const { directS, reflection, gapS, tooClose, directBelowLoudestDb } = findArrivals(
      arriving([afterMs, gain], [20, 0.2]),
      sampleRateHz,
    )
    expect(directS).toBeCloseTo(0.1, 3)
    expect(directBelowLoudestDb).toBe(0)
    expect(((reflection?.loudestS as number) - directS) * 1000).toBeCloseTo(afterMs, 0)
    expect(reflection?.levelDb).toBeCloseTo(20 * Math.log10(Math.abs(gain)), 0)
    // The gap ends where the reflection begins, not where it is loudest.
    expect((gapS as number) * 1000).toBeLessThan(afterMs)
    expect((gapS as number) * 1000).toBeGreaterThan(afterMs - 1.2)
    expect(tooClose).toBe(false)
  })

  test('is none where nothing else arrives, or only what is fainter than 20 dB', () => {
    expect(findArrivals(arriving(), sampleRateHz)).toMatchObject({
      reflection: null,
      gapS: null,
      merged: null,
      tooClose: false,
    })
    expect(findArrivals(arriving([6, 0.03]), sampleRateHz).reflection).toBeNull()
  })

  test('that comes too soon for a cut says so', () => {
    const { tooClose, gapS } = findArrivals(arriving([1.8, 0.7]), sampleRateHz)
    expect(tooClose).toBe(true)
    expect((gapS as number) * 1000).toBeLessThan(2)
  })

  test('does not hide that two arrivals have been taken for one', () => {
    const { merged, reflection } = findArrivals(arriving([0.6, 0.7], [7, 0.4]), sampleRateHz)
    expect((merged?.gapS as number) * 1000).toBeCloseTo(0.6, 1)
    expect(merged?.levelDb).toBeCloseTo(20 * Math.log10(0.7), 0)
    expect(((reflection?.loudestS as number) - 0.1) * 1000).toBeCloseTo(7, 0)
  })

  test('louder than the direct sound does not take its place', () => {
    const { directS, directBelowLoudestDb, reflection } = findArrivals(arriving([9, 3]), sampleRateHz)
    expect(directS).toBeCloseTo(0.1, 3)
    expect(directBelowLoudestDb).toBeCloseTo(20 * Math.log10(3), 0)
    expect(reflection?.levelDb).toBeCloseTo(20 * Math.log10(3), 0)
  })

  test('of low frequencies alone is found: a wall behind a box sends nothing else to the front', () => {
    const wall = convolved(
      Float64Array.from({ length: 100 }, (_, n) => (1 - Math.cos((2 * Math.PI * n) / 100)) / 100),
      [0.6],
    )
    const response = added(arriving(), wall, directAt + 12 * 48)
    const { reflection } = findArrivals(response, sampleRateHz)
    expect(((reflection?.loudestS as number) - 0.1) * 1000).toBeGreaterThan(11)
    expect(((reflection?.loudestS as number) - 0.1) * 1000).toBeLessThan(16)
  })

  test('is not made of noise, 20 seeds', () => {
    for (let seed = 1; seed <= 20; seed++) {
      const noisy = added(arriving(), whiteNoise(12000, 0.012, seed))
      expect(findArrivals(noisy, sampleRateHz).reflection, `seed ${seed}`).toBeNull()
    }
  })

  test('is refused in silence and out of range', () => {
    expect(() => findArrivals(new Float64Array(5000), sampleRateHz)).toThrow(/energy of the response/)
    expect(() => findArrivals(new Float64Array(10), sampleRateHz)).toThrow(/response.length is 10/)
  })
})

describe('the cut before it', () => {
  const bands = thirdOctaveBands(100, 16000)

  test.each([3, 5, 8.5])('leaves the box alone above its limit, reflection after %f ms', (afterMs) => {
    const cut = cutBeforeReflection(arriving([afterMs, 0.7], [afterMs + 3, -0.5]), sampleRateHz)
    const [is, wanted] = [cut.samples, arriving()].map((samples) => impulseLevelsDb(samples, sampleRateHz, bands)) as [
      Float64Array,
      Float64Array,
    ]
    expect(cut.validFromHz).toBeGreaterThanOrEqual(cut.ruleHz as number)
    expect(cut.validFromHz).toBeLessThan(6 * (cut.ruleHz as number))
    let held = 0
    for (const [i, { lowerHz, nominalHz }] of bands.entries()) {
      if (lowerHz < cut.validFromHz * 0.999) continue
      held += 1
      expect(Math.abs((is[i] as number) - (wanted[i] as number)), `${nominalHz} Hz`).toBeLessThan(0.5)
    }
    expect(held).toBeGreaterThan(8)
  })

  test('changes nothing where there is no reflection', () => {
    const response = arriving()
    expect(cutBeforeReflection(response, sampleRateHz)).toMatchObject({
      windowS: null,
      ruleHz: null,
      validFromHz: 0,
      samples: response,
    })
  })

  test('tells what the box sends from what the hall adds', () => {
    const front = { response: arriving([6, 0.5]), noise: null, sampleRateHz }
    const behind = { response: arriving([4, 1.5], [5.3, 1]).map((value) => 0.25 * value), noise: null, sampleRateHz }
    const { thirdOctaves, fine, validFromHz } = boxOrHall(front, behind)
    const at = thirdOctaves.bands.findIndex(({ nominalHz }) => nominalHz === 4000)
    expect(thirdOctaves.boxDb[at]).toBeCloseTo(20 * Math.log10(0.25), 0)
    expect((thirdOctaves.wholeDb[at] as number) - (thirdOctaves.boxDb[at] as number)).toBeCloseTo(
      thirdOctaves.hallDb[at] as number,
      9,
    )
    // (1 + 1.5² + 1²) / (1 + 0.5²)
    expect(thirdOctaves.hallDb[at]).toBeCloseTo(10 * Math.log10(4.25 / 1.25), 0)
    for (const [i, { lowerHz }] of fine.bands.entries()) {
      if (lowerHz < validFromHz * 0.999) expect(fine.boxDb[i]).toBeNull()
      else expect(fine.boxDb[i]).not.toBeNull()
    }
  })
})

describe('levels in noise', () => {
  test('have the noise taken off, and are not told within 3 dB of it', () => {
    const bands = thirdOctaveBands(500, 8000)
    const noise = whiteNoise(12000, 0.004, 1)
    const other = whiteNoise(12000, 0.004, 2)
    const response = arriving().slice(0, 12000)
    const wanted = impulseLevelsDb(response, sampleRateHz, bands)
    const is = measuredLevelsDb(added(response, noise), other, sampleRateHz, bands)
    const offs = is.map((level, i) => (level as number) - (wanted[i] as number))
    // The noise would add 0.8 dB to every band; what is left is chance, 0.5 dB a band.
    expect(Math.abs(offs.reduce((sum, off) => sum + off, 0) / offs.length)).toBeLessThan(0.4)
    for (const off of offs) expect(Math.abs(off)).toBeLessThan(2)
    expect(measuredLevelsDb(noise, other, sampleRateHz, bands)).toEqual(bands.map(() => null))
    expect(measuredLevelsDb(response, null, sampleRateHz, bands)).toEqual([...wanted])
  })

  test('scatter by as much as is said, 40 seeds', () => {
    const bands = thirdOctaveBands(500, 8000)
    const response = arriving().slice(0, 12000)
    const wanted = impulseLevelsDb(response, sampleRateHz, bands)
    let [ratio, count] = [0, 0]
    for (let seed = 1; seed <= 40; seed++) {
      const [noise, other] = [whiteNoise(12000, 0.003, seed), whiteNoise(12000, 0.003, 1000 + seed)]
      const told = measuredLevelsDb(added(response, noise), other, sampleRateHz, bands)
      const scatterDb = noiseScatterDb(added(response, noise), other, sampleRateHz, bands)
      for (const [i, level] of told.entries()) {
        ratio += (((level as number) - (wanted[i] as number)) / (scatterDb[i] as number)) ** 2
        count += 1
      }
    }
    // 520 values: their mean square is 1 within 0.2 (three standard deviations), and a little more for the noise that is taken off.
    expect(ratio / count).toBeGreaterThan(0.75)
    expect(ratio / count).toBeLessThan(1.4)
  })
})
