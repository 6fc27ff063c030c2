import { describe, expect, test } from 'vitest'
import { bandAverages, confidenceOf, pairedDifference } from '../../../../src/acoustics/measuring/band-averages.ts'
import { windowLength } from '../../../../src/acoustics/measuring/block-design.ts'
import {
  type BlockLevels,
  bandRows,
  detailRows,
  joinedBlocks,
} from '../../../../src/acoustics/measuring/block-levels.ts'
import { detailAverages, detailDifference } from '../../../../src/acoustics/measuring/detail-difference.ts'
import { interval95Db } from '../../../../src/acoustics/measuring/estimate.ts'
import { leftOutBlocks } from '../../../../src/acoustics/measuring/left-out.ts'
import {
  type ComparedBand,
  levelDifference,
  rangeDifference,
} from '../../../../src/acoustics/measuring/level-difference.ts'
import { LevelStream } from '../../../../src/acoustics/measuring/level-stream.ts'
import { narrowDips } from '../../../../src/acoustics/measuring/narrow-dips.ts'
import { recordingBands } from '../../../../src/acoustics/measuring/recording-bands.ts'
import { inverseRealDft, realDft } from '../../../../src/acoustics/signals/dft.ts'
import { analysed, noise } from './noise.ts'

type Gain = (frequencyHz: number) => number

/** The same noise through a filter of known gain, dB. */
function through(samples: Float32Array, sampleRateHz: number, gainDb: Gain): Float32Array {
  const { re, im } = realDft(samples)
  for (let k = 0; k < re.length; k++) {
    const gain = k === 0 ? 0 : 10 ** (gainDb((k * sampleRateHz) / samples.length) / 20)
    re[k] = (re[k] as number) * gain
    im[k] = (im[k] as number) * gain
  }
  return Float32Array.from(inverseRealDft({ re, im }, samples.length))
}

const sum = (first: Float32Array, second: Float32Array): Float32Array =>
  first.map((each, n) => each + (second[n] as number))

/** Mean power of a gain over a band, for noise with equal power in equal ratios of frequency. */
function bandGainDb(gainDb: Gain, { lowerHz, upperHz }: { lowerHz: number; upperHz: number }): number {
  const steps = 200
  let power = 0
  for (let n = 0; n < steps; n++)
    power += 10 ** (gainDb(lowerHz * (upperHz / lowerHz) ** ((n + 0.5) / steps)) / 10) / steps
  return 10 * Math.log10(power)
}

/** What is sent behind: some more bass, and treble that falls by 6 dB an octave from 500 Hz. */
const behindDb: Gain = (frequencyHz) => 2 * Math.exp(-frequencyHz / 80) - 6 * Math.max(0, Math.log2(frequencyHz / 500))
/** How the microphone behind differs from the one in front. */
const offsetDb: Gain = (frequencyHz) => -1.5 + 2 * Math.sin(Math.log(frequencyHz))

const levelsOf = (levels: BlockLevels, channel: number) =>
  bandAverages(levels, channel, leftOutBlocks(levels).kept).estimates

describe('recordings of known truth', () => {
  test.each([1, 2, 3])(
    'both at once: third octaves come back within 0.2 dB where the margin is 10 dB, set %i',
    (seed) => {
      const sampleRateHz = 48000
      const length = 2 ** 22
      const make = (of: number, gainDb?: Gain) => noise({ length, sampleRateHz, seed: 10 * seed + of }, gainDb)
      const sound = make(1)
      const quiet = (place: number) => make(place, () => -32)
      const front = sum(sound, quiet(2))
      const behind = through(sum(through(sound, sampleRateHz, behindDb), quiet(3)), sampleRateHz, offsetDb)
      const both = analysed([front, behind], sampleRateHz)
      const match = analysed([sound, through(sound, sampleRateHz, offsetDb)], sampleRateHz)
      const background = analysed([quiet(4), through(quiet(5), sampleRateHz, offsetDb)], sampleRateHz)
      const { kept, faults } = leftOutBlocks(both)
      expect(faults).toEqual([])
      const bands = levelDifference({
        front: { levels: levelsOf(both, 0), background: levelsOf(background, 0) },
        behind: { levels: levelsOf(both, 1), background: levelsOf(background, 1) },
        paired: pairedDifference(both, [0, 1], kept),
        offset: pairedDifference(match, [1, 0]),
      })
      let clear = 0
      for (const [i, { nominalHz, difference, standing }] of bands.entries()) {
        const band = recordingBands[i] as (typeof recordingBands)[number]
        const marginDb = 32 + bandGainDb(behindDb, band)
        if (marginDb < 2) expect(difference, `${nominalHz} Hz is lost in the background`).toBeNull()
        if (standing.behind !== 'clear') continue
        clear += 1
        expect(Math.abs((difference?.levelDb ?? 99) + bandGainDb(behindDb, band)), `${nominalHz} Hz`).toBeLessThan(0.2)
      }
      expect(clear).toBeGreaterThanOrEqual(22)
      const bass = rangeDifference(bands, { from: 40, to: 160 })?.difference
      expect(Math.abs((bass?.levelDb ?? 99) + bandGainDb(behindDb, { lowerHz: 35.5, upperHz: 177.8 }))).toBeLessThan(
        0.1,
      )
    },
  )

  test('in turns: the 95 % interval holds the truth in at least 95 % of the bands, as far as chance allows', () => {
    const sampleRateHz = 8000
    const length = 2 ** 17
    const bandCount = 22
    let inside = 0
    let all = 0
    for (let seed = 1; seed <= 60; seed++) {
      const make = (of: number, gainDb?: Gain) => noise({ length, sampleRateHz, seed: 100 * seed + of }, gainDb)
      const quietDb = -14
      const take = (of: number, gainDb: Gain) => {
        const level = (frequencyHz: number) => 10 * Math.log10(10 ** (gainDb(frequencyHz) / 10) + 10 ** (quietDb / 10))
        return bandAverages(analysed([make(of, level)], sampleRateHz), 0).estimates
      }
      const quiet = (of: number) => bandAverages(analysed([make(of, () => quietDb)], sampleRateHz), 0).estimates
      const matched = [
        bandAverages(analysed([make(5)], sampleRateHz), 0).estimates,
        bandAverages(analysed([make(6, offsetDb)], sampleRateHz), 0).estimates,
      ] as const
      const offset = levelDifference({ front: { levels: matched[1] }, behind: { levels: matched[0] } })
      const bands = levelDifference({
        front: { levels: take(1, () => 0), background: quiet(2) },
        behind: { levels: take(3, (f) => behindDb(f) + offsetDb(f)), background: quiet(4) },
        offset: offset.map(({ difference }) => difference),
      })
      bands.slice(0, bandCount).forEach(({ difference }, i) => {
        if (!difference) return
        const truth = -bandGainDb(behindDb, recordingBands[i] as (typeof recordingBands)[number])
        const { fromDb, toDb } = interval95Db(difference)
        all += 1
        if (truth >= fromDb && truth <= toDb) inside += 1
      })
    }
    // Of so many at 95 % each, one in a hundred times fewer than this would be inside.
    expect(all).toBeGreaterThan(1000)
    expect(inside, `${inside} of ${all}`).toBeGreaterThanOrEqual(0.95 * all - 2.33 * Math.sqrt(all * 0.95 * 0.05))
    // And the intervals are not so wide that they say nothing.
    expect(inside, `${inside} of ${all}`).toBeLessThan(0.995 * all)
  })

  test('the error of an average is that of 2BT degrees of freedom', () => {
    const sampleRateHz = 8000
    const seconds = 40
    const ratios = Array.from({ length: 12 }, (_, seed) => {
      const levels = analysed([noise({ length: seconds * sampleRateHz, sampleRateHz, seed: seed + 40 })], sampleRateHz)
      const { estimates } = bandAverages(levels, 0)
      return estimates.slice(0, levels.bandCount).map((estimate, band) => {
        const { lowerHz, upperHz } = recordingBands[band] as (typeof recordingBands)[number]
        return (estimate?.errorDb ?? 0) / (4.343 / Math.sqrt((upperHz - lowerHz) * seconds))
      })
    }).flat()
    const mean = ratios.reduce((total, ratio) => total + ratio, 0) / ratios.length
    expect(mean).toBeGreaterThan(0.92)
    expect(mean).toBeLessThan(1.08)
  })

  test('a dip of a known reflection is found where it is', () => {
    const sampleRateHz = 8000
    const length = 2 ** 19
    const detourS = 1 / (2 * 118)
    const combDb: Gain = (frequencyHz) => {
      const phase = 2 * Math.PI * frequencyHz * detourS
      return 10 * Math.log10(1 + 0.7 ** 2 + 2 * 0.7 * Math.cos(phase))
    }
    for (let seed = 1; seed <= 5; seed++) {
      const front = noise({ length, sampleRateHz, seed })
      const levels = analysed([front, through(front, sampleRateHz, combDb)], sampleRateHz)
      const detail = detailDifference({ front: detailAverages(levels, 0), behind: detailAverages(levels, 1) })
      const dip = narrowDips(detail).find(({ frequencyHz }) => frequencyHz < 200)
      expect(dip?.place).toBe('behind')
      expect(Math.abs((dip?.frequencyHz ?? 0) - 118)).toBeLessThan(3)
      const bands: ComparedBand[] = levelDifference({
        front: { levels: bandAverages(levels, 0).estimates },
        behind: { levels: bandAverages(levels, 1).estimates },
        paired: pairedDifference(levels, [0, 1]),
      })
      for (const [i, { difference, nominalHz }] of bands.entries()) {
        if (!difference || nominalHz > 400) continue
        const truth = -bandGainDb(combDb, recordingBands[i] as (typeof recordingBands)[number])
        // In so steep a comb the chance of single lines weighs; three errors of the difference, and 0.2 dB.
        expect(Math.abs(difference.levelDb - truth), `${nominalHz} Hz`).toBeLessThan(0.2 + 3 * difference.errorDb)
      }
    }
  })
})

describe('levels of a recording that comes in pieces', () => {
  test('do not depend on the pieces, and parts analysed apart join to the whole', () => {
    const sampleRateHz = 16000
    const samples = noise({ length: 10 * sampleRateHz, sampleRateHz, seed: 8 })
    samples.fill(1, 50000, 50010)
    const whole = new LevelStream({ sampleRateHz, channelCount: 1 })
    whole.push([samples])
    const expected = whole.levels()
    expect(analysed([samples], sampleRateHz)).toEqual(expected)
    const length = windowLength(sampleRateHz)
    const parts = [0, 4, 9].map((block, i, blocks) => {
      const stream = new LevelStream({ sampleRateHz, channelCount: 1 })
      const next = blocks[i + 1]
      stream.push([
        samples.subarray((block * length) / 2, next === undefined ? samples.length : ((next + 1) * length) / 2),
      ])
      return stream.levels()
    })
    expect(joinedBlocks(parts)).toEqual(expected)
  })

  test('two channels are kept apart', () => {
    const sampleRateHz = 16000
    const tone = (frequencyHz: number) =>
      Float32Array.from({ length: 5 * sampleRateHz }, (_, n) =>
        Math.sin((2 * Math.PI * frequencyHz * n) / sampleRateHz),
      )
    const levels = analysed([tone(1000), tone(125.9)], sampleRateHz)
    const level = (channel: number, nominalHz: number) => {
      const band = recordingBands.findIndex((each) => each.nominalHz === nominalHz)
      return 10 * Math.log10(bandRows(levels, channel)[0]?.[band] as number)
    }
    expect(level(0, 1000)).toBeCloseTo(-3.01, 2)
    expect(level(1, 125)).toBeCloseTo(-3.01, 1)
    expect(level(0, 125)).toBeLessThan(-90)
    expect(level(1, 1000)).toBeLessThan(-90)
  })

  test('a channel by itself has the levels that it has beside others, the third of three too', () => {
    const sampleRateHz = 16000
    const [first, second, third] = [1, 2, 3].map((seed) => noise({ length: 5 * sampleRateHz, sampleRateHz, seed })) as [
      Float32Array,
      Float32Array,
      Float32Array,
    ]
    const together = analysed([first, second, third], sampleRateHz)
    for (const [channel, samples] of [first, second, third].entries()) {
      const alone = analysed([samples], sampleRateHz)
      for (const rows of [bandRows, detailRows]) {
        const expected = rows(together, channel).flatMap((row) => [...row])
        expect(expected.length).toBeGreaterThan(100)
        for (const [i, power] of rows(alone, 0)
          .flatMap((row) => [...row])
          .entries())
          expect(power / (expected[i] as number)).toBeCloseTo(1, 5)
      }
    }
  })

  test.each([8000, 44100, 48000, 96000, 192000])('at %i Hz bands above half the rate are not held', (sampleRateHz) => {
    const levels = analysed([noise({ length: 3 * sampleRateHz, sampleRateHz, seed: 2 })], sampleRateHz)
    expect(levels.bandCount).toBe(recordingBands.filter(({ upperHz }) => upperHz <= sampleRateHz / 2).length)
    expect(levels.windowS).toBeGreaterThanOrEqual(1)
    expect(levels.windowS).toBeLessThan(2)
    expect(levels.blockCount).toBe(Math.floor((2 * 3) / levels.windowS - 1))
    const { estimates } = bandAverages({ ...levels, blockCount: Math.min(5, levels.blockCount) }, 0)
    expect(estimates.filter(Boolean).length).toBe(levels.blockCount >= 5 ? levels.bandCount : 0)
  })

  test('one second is too short for a single block at 48 kHz, and gives none', () => {
    const levels = analysed([noise({ length: 48000, sampleRateHz: 48000, seed: 2 })], 48000)
    expect(levels.blockCount).toBe(0)
    expect(bandAverages(levels, 0).estimates.every((estimate) => estimate === null)).toBe(true)
    expect(detailRows(levels, 0)).toEqual([])
  })

  test('silence has no level', () => {
    const levels = analysed([new Float32Array(80000)], 8000)
    expect(bandAverages(levels, 0).estimates.every((estimate) => estimate === null)).toBe(true)
    expect(leftOutBlocks(levels).faults).toEqual([])
  })

  test('an average goes on until the widest band is sure', () => {
    const sampleRateHz = 8000
    const samples = noise({ length: 60 * sampleRateHz, sampleRateHz, seed: 3 })
    const after = (seconds: number) => {
      const levels = analysed([samples.subarray(0, seconds * sampleRateHz)], sampleRateHz)
      return confidenceOf(bandAverages(levels, 0).estimates, seconds, { from: 40, to: 3150 })
    }
    expect(after(3)).toMatchObject({ widest: null, isEnough: false, furtherS: null })
    const early = after(5)
    expect(early.isEnough).toBe(false)
    expect(early.furtherS).toBeGreaterThan(1)
    expect(after(60)).toMatchObject({ isEnough: true, furtherS: 0 })
  })
})
