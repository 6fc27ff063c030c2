import { describe, expect, test } from 'vitest'
import { type BlockLevels, blockSpanS } from '../../../../src/acoustics/measuring/block-levels.ts'
import { type FaultKind, leftOutBlocks } from '../../../../src/acoustics/measuring/left-out.ts'
import { pinkNoise } from '../../../../src/acoustics/signals/pink-noise.ts'
import { seededRandom } from '../../../../src/acoustics/signals/seeded-random.ts'
import { speechLike } from '../../../../src/acoustics/signals/speech-like.ts'
import { analysed, noise } from './noise.ts'

const sampleRateHz = 32000
const durationS = 2 ** 20 / sampleRateHz
const seeds = Array.from({ length: 20 }, (_, i) => i + 1)

const noises = new Map<number, Float32Array>()
/** A recording's noise, made once a seed; behind a loudspeaker every second one, with the treble falling. */
function noiseOf(seed: number): Float32Array {
  const known = noises.get(seed)
  if (known) return known.slice()
  const behind = seed % 2 === 0
  const made = noise({ length: sampleRateHz * durationS, sampleRateHz, seed }, (frequencyHz) =>
    behind ? -6 * Math.max(0, Math.log2(frequencyHz / 500)) : 0,
  )
  noises.set(seed, made)
  return made.slice()
}

const rmsOf = (samples: Float32Array): number =>
  Math.sqrt(samples.reduce((sum, sample) => sum + sample * sample, 0) / samples.length)

let speech: Float32Array | undefined
/** Four seconds of talk, as loud as asked. */
function talk(rms: number): Float32Array {
  speech ??= speechLike({ sampleRateHz }).subarray(0, 4 * sampleRateHz)
  const factor = rms / rmsOf(speech)
  return speech.map((sample) => sample * factor)
}

function addAt(samples: Float32Array, added: Float32Array, timeS: number): void {
  const from = Math.round(timeS * sampleRateHz)
  for (let n = 0; n < added.length; n++) samples[from + n] = (samples[from + n] as number) + (added[n] as number)
}

/** Whether every left-out block touches the planted span, widened by a block, and some block in it is left out for that reason. */
function expectFound(levels: BlockLevels, kind: FaultKind, fromS: number, toS: number, seed: number): void {
  const { kept, faults } = leftOutBlocks(levels)
  const about = `seed ${seed}: ${JSON.stringify(faults)}`
  expect(
    faults.some((fault) => fault.kind === kind && fault.fromS < toS && fault.toS > fromS),
    `${kind}, ${about}`,
  ).toBe(true)
  for (const [block, isKept] of kept.entries()) {
    const span = blockSpanS(levels, block)
    if (!isKept)
      expect(span.fromS < toS + levels.windowS && span.toS > fromS - levels.windowS, `block ${block}, ${about}`).toBe(
        true,
      )
  }
}

describe('what is left out of a recording', () => {
  test.each(seeds)('nothing of clean noise, seed %i', (seed) => {
    expect(leftOutBlocks(analysed([noiseOf(seed)], sampleRateHz)).faults).toEqual([])
    const loop = pinkNoise({ sampleRateHz, durationS: 8, seed })
    const looped = Float32Array.from({ length: 4 * loop.length }, (_, n) => 0.5 * (loop[n % loop.length] as number))
    expect(leftOutBlocks(analysed([looped], sampleRateHz)).faults).toEqual([])
  })

  test.each(seeds)('talking is found, seed %i', (seed) => {
    const samples = noiseOf(seed)
    addAt(samples, talk(0.7 * rmsOf(samples)), 11)
    expectFound(analysed([samples], sampleRateHz), 'talking', 11, 15, seed)
  })

  test.each(seeds)('a bang is found, seed %i', (seed) => {
    const samples = noiseOf(seed)
    const random = seededRandom(seed)
    const timeS = 5 + 20 * random()
    const height = 12 * rmsOf(samples)
    // A chair falls: a click with a tail of 30 ms.
    const bang = Float32Array.from(
      { length: sampleRateHz / 5 },
      (_, n) => height * (2 * random() - 1) * Math.exp(-n / (0.03 * sampleRateHz)),
    )
    addAt(samples, bang, timeS)
    expectFound(analysed([samples], sampleRateHz), 'bang', timeS, timeS + 0.2, seed)
  })

  test.each(seeds)('a thump in the bass is found, seed %i', (seed) => {
    const samples = noiseOf(seed)
    const height = 4 * rmsOf(samples)
    const thump = Float32Array.from({ length: sampleRateHz / 2 }, (_, n) => {
      const timeS = n / sampleRateHz
      return height * Math.sin(2 * Math.PI * 80 * timeS) * Math.exp(-timeS / 0.15)
    })
    addAt(samples, thump, 20)
    expectFound(analysed([samples], sampleRateHz), 'bang', 20, 20.5, seed)
  })

  test.each(seeds)('clipping is found with its time, seed %i', (seed) => {
    const samples = noiseOf(seed)
    const from = 14 * sampleRateHz
    // For half a second the input is driven far too high.
    for (let n = from; n < from + sampleRateHz / 2; n++) {
      samples[n] = Math.max(-1, Math.min(1, 30 * (samples[n] as number)))
    }
    const levels = analysed([samples], sampleRateHz)
    expectFound(levels, 'clipped', 14, 14.5, seed)
    expect(levels.clippedRuns[0]?.timeS).toBeGreaterThanOrEqual(14)
    expect(levels.clippedRuns.at(-1)?.timeS).toBeLessThan(14.5)
    expect(levels.clippedSamples).toBeGreaterThan(100)
  })

  test.each(seeds)('clipping that was turned down later is found, seed %i', (seed) => {
    const samples = noiseOf(seed)
    const ceiling = 2.2 * rmsOf(samples)
    const levels = analysed([samples.map((sample) => Math.max(-ceiling, Math.min(ceiling, sample)))], sampleRateHz)
    expect(levels.clippedRuns.length).toBeGreaterThan(3)
    expect(levels.clippedRuns[0]?.ceiling).toBeCloseTo(ceiling, 6)
    expect(leftOutBlocks(levels).faults.every(({ kind }) => kind === 'clipped')).toBe(true)
  })

  test.each(seeds)('a changed volume is found, seed %i', (seed) => {
    const samples = noiseOf(seed)
    const timeS = 8 + 0.7 * seed
    const stepDb = seed % 3 === 0 ? -1.5 : 3
    for (let n = Math.round(timeS * sampleRateHz); n < samples.length; n++) {
      samples[n] = (samples[n] as number) * 10 ** (stepDb / 20)
    }
    const levels = analysed([samples], sampleRateHz)
    const { kept, faults } = leftOutBlocks(levels)
    const step = faults.find(({ kind }) => kind === 'step')
    const about = JSON.stringify(faults)
    expect(step, about).toBeDefined()
    expect(
      faults.every(({ kind }) => kind === 'step'),
      about,
    ).toBe(true)
    // The longer side stays; the other one is told against it.
    const earlierIsLonger = timeS > durationS / 2
    const expectedDb = earlierIsLonger ? stepDb : -stepDb
    expect(Math.abs((step?.amountDb ?? 0) - expectedDb), about).toBeLessThan(0.4)
    const inside = kept.flatMap((isKept, block) => (isKept ? [blockSpanS(levels, block)] : []))
    for (const { fromS, toS } of inside) {
      if (earlierIsLonger) expect(fromS).toBeLessThan(timeS)
      else expect(toS).toBeGreaterThan(timeS)
    }
  })

  test.each(seeds)('a level that rises slowly is found, seed %i', (seed) => {
    const samples = noiseOf(seed).map((sample, n) => sample * 10 ** ((2 * n) / (durationS * sampleRateHz) / 20))
    const { kept, faults } = leftOutBlocks(analysed([samples], sampleRateHz))
    expect(
      faults.map(({ kind }) => kind),
      JSON.stringify(faults),
    ).toEqual(['trend'])
    expect(faults[0]?.amountDb).toBeGreaterThan(1.5)
    expect(faults[0]?.amountDb).toBeLessThan(2.5)
    expect(kept.every(Boolean)).toBe(true)
  })

  test.each(seeds)('a gap is found, seed %i', (seed) => {
    const samples = noiseOf(seed)
    samples.fill(0, 9 * sampleRateHz, 10.5 * sampleRateHz)
    expectFound(analysed([samples], sampleRateHz), 'gap', 9, 10.5, seed)
  })

  test('a fault of one channel takes the block from both, and says whose it was', () => {
    const samples = noiseOf(1)
    samples.fill(0, 9 * sampleRateHz, 10.5 * sampleRateHz)
    const { kept, faults } = leftOutBlocks(analysed([noiseOf(1), samples], sampleRateHz))
    expect(faults.map(({ kind, channel }) => [kind, channel])).toEqual([['gap', 1]])
    expect(kept.filter((isKept) => !isKept).length).toBeGreaterThan(1)
  })
})
