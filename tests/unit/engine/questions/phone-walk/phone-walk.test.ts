import { describe, expect, test } from 'vitest'
import {
  type BandEstimates,
  halfIntervalDb,
  joinedBlocks,
  pinkNoise,
  recordingBands,
} from '../../../../../src/acoustics/index.ts'
import { inverseRealDft, realDft } from '../../../../../src/acoustics/signals/dft.ts'
import {
  phoneBlocks,
  phoneHeld,
  phoneHere,
  phoneWalkAnswer,
} from '../../../../../src/engine/questions/phone-walk/phone-walk.ts'
import { noise } from '../../../acoustics/measuring/noise.ts'

type Gain = (frequencyHz: number) => number

/** Some more bass here, and treble that falls by 6 dB an octave from 500 Hz. */
const hereDb: Gain = (frequencyHz) => 2 * Math.exp(-frequencyHz / 80) - 6 * Math.max(0, Math.log2(frequencyHz / 500))

/** Mean power of a gain over a band, for noise with equal power in equal ratios of frequency. */
function bandGainDb(gainDb: Gain, { lowerHz, upperHz }: { lowerHz: number; upperHz: number }): number {
  const steps = 200
  let power = 0
  for (let n = 0; n < steps; n++)
    power += 10 ** (gainDb(lowerHz * (upperHz / lowerHz) ** ((n + 0.5) / steps)) / 10) / steps
  return 10 * Math.log10(power)
}

function through(samples: Float32Array, sampleRateHz: number, gainDb: Gain): Float32Array {
  const { re, im } = realDft(samples)
  for (let k = 0; k < re.length; k++) {
    const gain = k === 0 ? 0 : 10 ** (gainDb((k * sampleRateHz) / samples.length) / 20)
    re[k] = (re[k] as number) * gain
    im[k] = (im[k] as number) * gain
  }
  return Float32Array.from(inverseRealDft({ re, im }, samples.length))
}

/** A loop played for so long, from a sample on. */
const looped = (loop: Float32Array, frames: number, from = 0) =>
  Float32Array.from({ length: frames }, (_, n) => loop[(from + n) % loop.length] as number)

const held = (samples: Float32Array, sampleRateHz: number, quiet: BandEstimates | null = null) =>
  phoneHeld({ levels: phoneBlocks({ sampleRateHz, samples }), quiet })

describe('here against the front', () => {
  test('with the noise of the page, after a minute, is right within 0.2 dB in every band', () => {
    const sampleRateHz = 48000
    // A power of two of samples goes round without a seam: 21.8 s.
    const loop = pinkNoise({ sampleRateHz, durationS: 2 ** 20 / sampleRateHz, seed: 1 })
    const here = through(loop, sampleRateHz, hereDb)
    const minute = 3 * 2 ** 20
    const front = held(looped(loop, minute), sampleRateHz).place.levels
    // Not the same moment of the noise: the reader has walked.
    const levels = phoneBlocks({ sampleRateHz, samples: looped(here, minute, 300_007) })
    const { bands, ranges } = phoneHere({ front, quiet: null, levels })
    for (const [i, { nominalHz, difference }] of bands.entries()) {
      const truth = -bandGainDb(hereDb, recordingBands[i] as (typeof recordingBands)[number])
      expect(Math.abs((difference?.levelDb ?? 99) - truth), `${nominalHz} Hz`).toBeLessThan(0.2)
    }
    expect(ranges.bass.kind === 'told' && ranges.bass.found.measured).toBe(7)
  })

  test('over the last five seconds the 95 % interval holds the truth in 95 % of the bands, as far as chance allows', () => {
    const sampleRateHz = 8000
    let inside = 0
    let all = 0
    for (let seed = 1; seed <= 60; seed++) {
      const front = held(noise({ length: 2 ** 17, sampleRateHz, seed: 100 * seed }), sampleRateHz).place.levels
      const walked = noise({ length: 2 ** 17, sampleRateHz, seed: 100 * seed + 1 }, hereDb)
      const levels = phoneBlocks({ sampleRateHz, samples: walked.slice(0, 5 * sampleRateHz) })
      phoneHere({ front, quiet: null, levels }).bands.forEach(({ difference }, i) => {
        if (!difference) return
        const truth = -bandGainDb(hereDb, recordingBands[i] as (typeof recordingBands)[number])
        all += 1
        if (Math.abs(difference.levelDb - truth) <= halfIntervalDb(difference)) inside += 1
      })
    }
    expect(all).toBe(60 * 22)
    // Of so many at 95 % each, one in a hundred times fewer than this would be inside; and they are not so wide that they say nothing.
    expect(inside, `${inside} of ${all}`).toBeGreaterThanOrEqual(0.95 * all - 2.33 * Math.sqrt(all * 0.95 * 0.05))
    expect(inside, `${inside} of ${all}`).toBeLessThan(0.995 * all)
  })

  test('while the level changes the interval gets wider', () => {
    const sampleRateHz = 8000
    const front = held(noise({ length: 2 ** 17, sampleRateHz, seed: 1 }), sampleRateHz).place.levels
    const steady = noise({ length: 2 ** 16, sampleRateHz, seed: 2 }).slice(0, 5 * sampleRateHz)
    // Six decibels less in the second half: half way to another place.
    const walking = steady.map((sample, n) => (n > steady.length / 2 ? 0.5 : 1) * sample)
    const widthDb = (samples: Float32Array) => {
      const { middle } = phoneHere({ front, quiet: null, levels: phoneBlocks({ sampleRateHz, samples }) }).ranges
      return middle.kind === 'told' ? halfIntervalDb(middle.found.difference) : 0
    }
    expect(widthDb(walking)).toBeGreaterThan(3 * widthDb(steady))
  })

  test('does not depend on the stretches that the sound came in', () => {
    const sampleRateHz = 8000
    const samples = noise({ length: 8 * 4096, sampleRateHz, seed: 5 })
    const whole = phoneBlocks({ sampleRateHz, samples })
    // Three blocks, then the rest: the half of the third that the fourth shares comes twice.
    const parts = [samples.slice(0, 4 * 4096), samples.slice(3 * 4096)].map((part) =>
      phoneBlocks({ sampleRateHz, samples: part }),
    )
    expect(joinedBlocks(parts)).toEqual(whole)
  })
})

describe('what is not heard', () => {
  const sampleRateHz = 48000
  const length = 2 ** 20
  const quietDb = -20
  const sum = (a: Float32Array, b: Float32Array) => a.map((sample, n) => sample + (b[n] as number))
  const background = (seed: number) => noise({ length, sampleRateHz, seed }, () => quietDb)
  const quiet = held(background(1), sampleRateHz).place.levels
  const front = held(sum(noise({ length, sampleRateHz, seed: 2 }), background(3)), sampleRateHz, quiet).place.levels
  /** Bass as in front, treble 40 dB down: it drowns. */
  const drowned: Gain = (frequencyHz) => (frequencyHz < 1000 ? 0 : -40)
  const here = held(sum(noise({ length, sampleRateHz, seed: 4 }, drowned), background(5)), sampleRateHz, quiet).place

  const answer = phoneWalkAnswer({ quiet, fronts: [front], places: [{ levels: here.levels, front: 0 }] })
  const [place] = answer.places

  test('treble that drowns is told as at least so much quieter, and that is true', () => {
    expect(place?.ranges.treble.kind).toBe('at-least')
    const { treble } = place?.ranges ?? {}
    // The background lies 20 dB under the front: more than that cannot be told, and much less would say little.
    expect(treble?.kind === 'at-least' && treble.quieterDb).toBeGreaterThan(18)
    expect(treble?.kind === 'at-least' && treble.quieterDb).toBeLessThan(20.2)
  })

  test('bands that do not stand 3 dB over the quiet are not counted, the others are right', () => {
    for (const { nominalHz, difference, standing } of place?.bands ?? []) {
      if (nominalHz > 1250) expect(difference, `${nominalHz} Hz`).toBeNull()
      if (nominalHz > 1250) expect(standing.behind).toBe('not-measured')
      if (nominalHz < 800 && nominalHz > 100)
        expect(Math.abs(difference?.levelDb ?? 99), `${nominalHz} Hz`).toBeLessThan(1)
    }
  })

  test('such bands do not keep a hold from being enough', () => {
    const low: Gain = (frequencyHz) => (frequencyHz < 300 ? -60 : 0)
    const samples = sum(noise({ length, sampleRateHz, seed: 6 }, low), background(7)).slice(0, 9 * sampleRateHz)
    expect(held(samples, sampleRateHz, quiet).confidence.isEnough).toBe(true)
    expect(held(samples, sampleRateHz).confidence.isEnough).toBe(false)
  })
})

describe('a front that is held again', () => {
  const sampleRateHz = 8000
  const level = (seed: number, gainDb: number) =>
    held(
      noise({ length: 2 ** 18, sampleRateHz, seed }, () => gainDb),
      sampleRateHz,
    ).place.levels
  const fronts = [level(1, 0), level(2, 2)]
  const place = level(3, -6)

  test('says how far it drifted, and widens what was marked in between, and nothing after it', () => {
    const question = { quiet: null, fronts, places: [0, 1].map((front) => ({ levels: place, front })) }
    const { drifts, places } = phoneWalkAnswer(question)
    expect(drifts).toHaveLength(1)
    expect(drifts[0]?.bass?.levelDb).toBeCloseTo(2, 0)
    expect(Math.abs((drifts[0]?.middle?.levelDb ?? 0) - 2)).toBeLessThan(0.1)
    const [between, after] = places.map(({ ranges: { middle } }) =>
      middle.kind === 'told' ? middle.found.difference : undefined,
    )
    expect(Math.abs((between?.levelDb ?? 0) - 6)).toBeLessThan(0.1)
    expect(Math.abs((after?.levelDb ?? 0) - 8)).toBeLessThan(0.1)
    const [wide, narrow] = [between, after].map((each) => (each ? halfIntervalDb(each) : 0))
    // ±1.96 · 2/√3
    expect(wide).toBeGreaterThan(2.2)
    expect(wide).toBeLessThan(2.4)
    expect(narrow).toBeLessThan(0.2)
  })

  test('a place that names a front that there is none of is refused', () => {
    expect(() => phoneWalkAnswer({ quiet: null, fronts, places: [{ levels: place, front: 2 }] })).toThrow(
      'front is 2; allowed is 0 to 1',
    )
  })
})
