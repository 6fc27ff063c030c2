import { readFileSync } from 'node:fs'
import { beforeAll, describe, expect, test } from 'vitest'
import { type PlanPoint, type Rig, thirdOctaveBands } from '../../../../../src/acoustics/index.ts'
import {
  cutBeforeReflection,
  measuredLevelsDb,
  noiseScatterDb,
} from '../../../../../src/acoustics/measuring/impulse-cut.ts'
import { octaveDecays } from '../../../../../src/acoustics/measuring/impulse-decay.ts'
import { impulseLevelsDb } from '../../../../../src/acoustics/measuring/impulse-levels.ts'
import { recordedThrough } from '../../../../../src/acoustics/measuring/practice-recording.ts'
import { sweepSignal, usualSweep } from '../../../../../src/acoustics/measuring/sweep.ts'
import { type SweepTake, sweepTake } from '../../../../../src/acoustics/measuring/sweep-take.ts'
import { pinkNoise } from '../../../../../src/acoustics/signals/pink-noise.ts'
import { airOf } from '../../../../../src/engine/scene/air.ts'
import { passbandDb } from '../../../../../src/engine/scene/free-field.ts'
import { demoHallStates } from '../../../../../src/engine/scene/hall-content.ts'
import { outdoorResponse } from '../../../../../src/engine/scene/hall-early.ts'
import { uncorrectedResponse } from '../../../../../src/engine/scene/hall-responses.ts'
import { directLevelsDb, hallRig } from '../../../../../src/engine/scene/hall-rig.ts'
import { loadSolvedRig } from '../../../../../src/engine/scene/solved-gear.ts'
import { added, rmsOf } from '../../../acoustics/measuring/by-hand.ts'

// What sweeps find in a hall that is known: the response of the model before its third octaves are brought to the predicted levels, whose
// direct sound is exactly that of free air. Noise lies 20 dB under the recording, pink as the sweep is.

const rig = JSON.parse(readFileSync('content/gear/top-over-sub.json', 'utf8')) as Rig
const sampleRateHz = 48000
const peak = 0.4
const bands = thirdOctaveBands(25, 16000)
const octaves = [63, 125, 250, 500, 1000, 2000, 4000, 8000]
const places: Record<string, PlanPoint> = { front: { xM: 0, zM: 2.5 }, behind: { xM: 0, zM: -2.5 } }

describe.each([
  ['curtains', 'front', 1],
  ['curtains', 'behind', 2],
  ['packed', 'behind', 3],
] as const)('sweeps in the hall, %s, %s', (key, where, seed) => {
  let known: Float32Array
  let free: Float32Array
  let found: SweepTake
  beforeAll(async () => {
    await loadSolvedRig(rig)
    const design = demoHallStates.find((state) => state.key === key)?.design
    if (!design) throw new Error(`no hall ${key}`)
    const standing = hallRig(rig, design, airOf())
    const gain = 10 ** (-passbandDb(directLevelsDb(standing.free, places.front as PlanPoint)) / 20)
    const place = places[where] as PlanPoint
    known = uncorrectedResponse(standing, place, gain, sampleRateHz, seed)
    free = outdoorResponse(standing, place, gain, sampleRateHz)
    const recorded = recordedThrough(sweepSignal(usualSweep, sampleRateHz, peak), known, null, sampleRateHz)
    const noise = pinkNoise({ sampleRateHz, durationS: recorded.length / sampleRateHz, seed: 40 + seed })
    // The sweep sounds for 16 of 22.5 s.
    const under = (0.1 * rmsOf(recorded.slice(sampleRateHz, 8 * sampleRateHz))) / rmsOf(noise)
    const samples = added(
      recorded,
      noise.map((sample) => under * sample),
    )
    found = sweepTake({ samples, sampleRateHz }, usualSweep)
  })

  test('nothing is found wrong, and the clock is right', () => {
    expect(found.findings).toEqual([])
    expect(Math.abs(found.driftPpm as number)).toBeLessThan(1)
  })

  test('the levels come back within 0.3 dB by third octave, and within what noise may do where that is more', () => {
    const wanted = impulseLevelsDb(known, sampleRateHz, bands)
    const told = measuredLevelsDb(found.response ?? [], found.noise, sampleRateHz, bands)
    const scatterDb = noiseScatterDb(found.response ?? [], found.noise ?? [], sampleRateHz, bands)
    let held = 0
    for (const [i, { nominalHz }] of bands.entries()) {
      const [level, scatter] = [told[i] ?? null, scatterDb[i] ?? null]
      if (level === null || scatter === null) continue
      // Where three standard deviations of the noise are less than 0.3 dB, that is what is asked for. At 25 Hz the rig itself is 12 dB
      // down, and behind it the treble 30 dB: noise is near there.
      if (3 * scatter < 0.3) held += 1
      const offDb = level - (wanted[i] as number) - 20 * Math.log10(peak)
      expect(Math.abs(offDb), `${nominalHz} Hz, ${scatter.toFixed(2)} dB`).toBeLessThan(Math.max(0.3, 4 * scatter))
    }
    expect(held).toBeGreaterThanOrEqual(where === 'front' ? 25 : 16)
  })

  test('the decay comes back within 5 per cent wherever it is told', () => {
    const [is, wanted] = [found.response ?? [], known].map((samples) => octaveDecays(samples, sampleRateHz))
    let told = 0
    for (const [i, { t20S, band }] of (is ?? []).entries()) {
      expect(octaves).toContain(band.nominalHz)
      if (t20S === null || wanted?.[i]?.t20S == null) continue
      told += 1
      expect(
        Math.abs(t20S / (wanted[i]?.t20S as number) - 1),
        `${band.nominalHz} Hz, ${t20S.toFixed(2)} s`,
      ).toBeLessThan(0.05)
    }
    expect(told).toBeGreaterThanOrEqual(where === 'front' ? 6 : 4)
  })

  test('the cut leaves the box within 0.5 dB of free air above its limit, from the known response and from the one found', () => {
    const wanted = impulseLevelsDb(free, sampleRateHz, bands)
    const lead = new Float64Array(0.1 * sampleRateHz)
    for (const [response, playedDb] of [
      [Float64Array.from([...lead, ...known]), 0],
      [found.response ?? [], 20 * Math.log10(peak)],
    ] as const) {
      const cut = cutBeforeReflection(response, sampleRateHz)
      expect(cut.arrivals.tooClose).toBe(false)
      expect(cut.validFromHz).toBeLessThan(2000)
      const levels = impulseLevelsDb(cut.samples, sampleRateHz, bands)
      for (const [i, { lowerHz, nominalHz }] of bands.entries()) {
        if (lowerHz < cut.validFromHz * 0.999) continue
        const offDb = (levels[i] as number) - playedDb - (wanted[i] as number)
        expect(Math.abs(offDb), `${nominalHz} Hz, ${playedDb === 0 ? 'known' : 'found'}`).toBeLessThan(0.5)
      }
    }
  })
})
