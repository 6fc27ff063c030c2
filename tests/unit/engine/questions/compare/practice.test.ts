import { readFileSync } from 'node:fs'
import { beforeAll, describe, expect, test } from 'vitest'
import { groupLevelDb, type Rig, thirdOctaveLevelsDb } from '../../../../../src/acoustics/index.ts'
import { microphoneOffsetDb } from '../../../../../src/acoustics/measuring/practice-recording.ts'
import { usualSweep } from '../../../../../src/acoustics/measuring/sweep.ts'
import { sweepPair } from '../../../../../src/acoustics/measuring/sweep-take.ts'
import { practiceTake } from '../../../../../src/engine/questions/compare/practice.ts'
import { type PracticeName, practiceNames } from '../../../../../src/engine/questions/compare/practice-terms.ts'
import { loadSolvedRig } from '../../../../../src/engine/scene/solved-gear.ts'
import { bassHz, heardBands, trebleHz } from '../../../../../src/engine/scene/third-octaves.ts'

const rig = JSON.parse(readFileSync('content/gear/top-over-sub.json', 'utf8')) as Rig
beforeAll(() => loadSolvedRig(rig))

const made = new Map<string, ReturnType<typeof practiceTake>>()
const take = (name: PracticeName, seed = 7) => {
  const known = made.get(`${name} ${seed}`) ?? practiceTake(name, seed, { rig })
  made.set(`${name} ${seed}`, known)
  return known
}
const told = new WeakMap<Float32Array, Float64Array>()
const levels = (samples: Float32Array) => {
  const known = told.get(samples) ?? thirdOctaveLevelsDb(samples, 48000, heardBands)
  told.set(samples, known)
  return known
}
/** Behind minus front over a group of bands, as the recordings hold it. */
const groupDb = (name: PracticeName, { from, to }: { from: number; to: number }) => {
  const { front, behind } = take(name)
  return groupLevelDb(levels(behind), heardBands, from, to) - groupLevelDb(levels(front), heardBands, from, to)
}

describe('the practice set', () => {
  test.each(practiceNames)('%s lasts 20 to 30 s, is never at full scale, and holds what its truth says', (name) => {
    const { sampleRateHz, front, behind, truth } = take(name)
    expect(sampleRateHz).toBe(48000)
    expect(front).toHaveLength(behind.length)
    expect(front.length / sampleRateHz).toBeGreaterThan(20)
    expect(front.length / sampleRateHz).toBeLessThan(30)
    for (const samples of [front, behind]) {
      expect(samples.every((sample) => Number.isFinite(sample) && Math.abs(sample) < 0.95)).toBe(true)
    }
    expect(truth.name).toBe(name)
    if (name === 'quiet' || name === 'talking') return
    const [f, b] = [levels(front), levels(behind)]
    for (const [i, { nominalHz }] of heardBands.entries()) {
      // Background at −45 dB, as loud in every band, is 10 dB and less under the treble behind, and the bands behind are steep.
      const allowedDb = nominalHz <= 1250 ? 0.15 : 1.5
      expect(
        Math.abs((b[i] as number) - (f[i] as number) - (truth.recordedDb[i] as number)),
        `${nominalHz} Hz`,
      ).toBeLessThan(allowedDb)
    }
  })

  test('is the same for one seed and another for another', () => {
    const again = practiceTake('sound', 7, { rig })
    expect(again.behind).toEqual(take('sound').behind)
    expect(again.truth).toEqual(take('sound').truth)
    expect(take('sound', 8).behind.subarray(0, 100)).not.toEqual(again.behind.subarray(0, 100))
  })

  test('played well has the bass behind and not the treble', () => {
    expect(groupDb('sound', bassHz)).toBeGreaterThan(-4.5)
    expect(groupDb('sound', trebleHz)).toBeLessThan(-20)
  })

  test('match: both microphones hear the same, and differ by their offsets alone', () => {
    const { front, behind, truth } = take('match')
    const [f, b] = [levels(front), levels(behind)]
    for (const [i, { centreHz }] of heardBands.entries()) {
      const { microphones } = truth
      const offDb = microphoneOffsetDb(microphones.behind, centreHz) - microphoneOffsetDb(microphones.front, centreHz)
      expect((b[i] as number) - (f[i] as number)).toBeCloseTo(offDb, 0)
    }
    expect(truth.microphones).toEqual(take('sound').truth.microphones)
  })

  test('quiet: nothing but the background, so far below the sound as is said', () => {
    const { front, truth } = take('quiet')
    const squareOf = (samples: Float32Array) => samples.reduce((sum, sample) => sum + sample ** 2, 0)
    expect(10 * Math.log10(squareOf(front) / squareOf(take('match').front))).toBeCloseTo(truth.backgroundDb, -1)
  })

  test('unmatched microphones: more bass behind than there is', () => {
    expect(groupDb('unmatched-microphones', bassHz) - groupDb('sound', bassHz)).toBeGreaterThan(2)
  })

  test('unequal distances: everything behind as if it were louder', () => {
    expect(take('unequal-distances').truth.distanceM).toEqual({ front: 5, behind: 2.5 })
    for (const group of [bassHz, trebleHz]) {
      const moreDb = groupDb('unequal-distances', group) - groupDb('sound', group)
      expect(moreDb).toBeGreaterThan(4)
      expect(moreDb).toBeLessThan(8)
    }
  })

  test('a wall behind the microphone: a dip where half a wave fits into the longer way', () => {
    const { truth } = take('wall-behind-microphone')
    const dipHz = 343 / (2 * (truth.extraPathM as number))
    const [with_, without] = [truth.arrivingDb.behind, take('sound').truth.arrivingDb.behind]
    const change = heardBands.map((_, i) => (with_[i] as number) - (without[i] as number))
    const lowest = heardBands[change.indexOf(Math.min(...change.slice(0, 10)))]
    expect(Math.abs(Math.log2((lowest?.centreHz as number) / dipHz))).toBeLessThan(1 / 3)
    // Far below it sound and reflection are in step.
    expect(change[0]).toBeGreaterThan(4)
  })

  test('talking: louder in the middle bands while somebody talks, and only then', () => {
    const { behind, truth } = take('talking')
    const { behind: without } = take('sound')
    const difference = behind.map((sample, n) => sample - (without[n] as number))
    const inside = (n: number) => truth.talking.some(({ fromS, toS }) => n / 48000 >= fromS && n / 48000 <= toS)
    expect(difference.some((sample, n) => !inside(n) && sample !== 0)).toBe(false)
    const spoken = thirdOctaveLevelsDb(behind.subarray(6.2 * 48000, 9.2 * 48000), 48000, heardBands)
    const alone = thirdOctaveLevelsDb(without.subarray(6.2 * 48000, 9.2 * 48000), 48000, heardBands)
    const at = (nominalHz: number) => heardBands.findIndex((band) => band.nominalHz === nominalHz)
    expect((spoken[at(500)] as number) - (alone[at(500)] as number)).toBeGreaterThan(6)
    expect((spoken[at(40)] as number) - (alone[at(40)] as number)).toBeLessThan(1)
  })

  test('meter smoothing: the meter still shows the treble of the front', () => {
    const { meterDb, truth } = take('meter-smoothing')
    const at = (nominalHz: number) => heardBands.findIndex((band) => band.nominalHz === nominalHz)
    const offDb = (nominalHz: number) =>
      (meterDb?.behind[at(nominalHz)] as number) -
      (meterDb?.front[at(nominalHz)] as number) -
      (truth.recordedDb[at(nominalHz)] as number)
    expect(offDb(4000)).toBeGreaterThan(8)
    expect(Math.abs(offDb(100))).toBeLessThan(2.5)
    expect(take('sound').meterDb).toBeUndefined()
  })

  test('volume changed: bass and treble behind are louder by what the truth says', () => {
    const { volumeChangeDb } = take('volume-changed').truth
    expect(volumeChangeDb).toBeGreaterThanOrEqual(4)
    for (const group of [bassHz, { from: 250, to: 1000 }]) {
      expect(groupDb('volume-changed', group) - groupDb('sound', group)).toBeCloseTo(volumeChangeDb, 0)
    }
  })

  test('by sweeps: the clock is found, and what the recordings hold', () => {
    const { front, behind, truth, sampleRateHz } = practiceTake('sound', 11, { rig, signal: 'sweep' })
    const channel = (samples: Float32Array) => ({ samples, sampleRateHz })
    const pair = sweepPair({ front: channel(front), behind: channel(behind), oneClock: true }, usualSweep)
    expect(Math.abs((pair.front.driftPpm as number) - truth.driftPpm)).toBeLessThan(1)
    expect(pair.behind.findings.filter(({ kind }) => kind !== 'clock-drift')).toEqual([])
  })

  test('refuses an unknown take and a seed that is none, in words', () => {
    expect(() => practiceTake('loud' as PracticeName, 1, { rig })).toThrow(
      /name is loud; allowed is match, quiet, sound/,
    )
    expect(() => practiceTake('sound', -1, { rig })).toThrow(/seed is -1; allowed is a whole number from 0/)
  })
})
