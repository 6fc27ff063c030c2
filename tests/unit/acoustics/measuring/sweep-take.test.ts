import { describe, expect, test } from 'vitest'
import { thirdOctaveBands } from '../../../../src/acoustics/bands/octave-bands.ts'
import { impulseLevelsDb } from '../../../../src/acoustics/measuring/impulse-levels.ts'
import { sweepSignal, sweepSpacingS, usualSweep } from '../../../../src/acoustics/measuring/sweep.ts'
import { sweepPair, sweepTake } from '../../../../src/acoustics/measuring/sweep-take.ts'
import { pinkNoise } from '../../../../src/acoustics/signals/pink-noise.ts'
import { added, convolved, onAnotherClock, rmsOf, whiteNoise } from './by-hand.ts'

const spec = { ...usualSweep, fromHz: 50, toHz: 7000, durationS: 1.5, fadeInS: 0.05, afterS: 0.8 }
const sampleRateHz = 16000
/** Direct sound and three reflections. */
const response = new Float64Array(2000)
for (const [at, gain] of [
  [40, 0.8],
  [160, -0.3],
  [551, 0.2],
  [1700, 0.1],
] as const) {
  response[at] = gain
}
const recorded = (late = 800) => {
  const sound = convolved(sweepSignal(spec, sampleRateHz, 0.5), response)
  return added(new Float64Array(sound.length + late), sound, late)
}
const clean = recorded()
/** Pink noise 20 dB under the sweep, another for every seed. */
const noisy = (samples: Float64Array, seed: number) => {
  const noise = pinkNoise({ sampleRateHz, durationS: (samples.length + 1) / sampleRateHz, seed })
  const gain = (0.1 * rmsOf(samples.slice(9000, 30000))) / rmsOf(noise)
  return samples.map((sample, n) => sample + gain * (noise[n] as number))
}
const take = (samples: ArrayLike<number>) => sweepTake({ samples, sampleRateHz }, spec)
const bands = thirdOctaveBands(80, 5000)

describe('a recording of sweeps', () => {
  test('gives the response back, its arrival a tenth of a second from its beginning', () => {
    const { response: found, leadS, findings, sweepsUsed, startsAtS } = take(clean)
    expect(findings).toEqual([])
    expect(sweepsUsed).toEqual([1, 2])
    expect(startsAtS).toBeCloseTo(0.5 + (800 + 40) / sampleRateHz, 6)
    const at = Math.round(leadS * sampleRateHz)
    // Times of arrivals, and their strengths against each other: the band ends at 7 kHz, so that each is 14/16 as high.
    for (const [later, gain] of [
      [0, 0.8],
      [120, -0.3],
      [511, 0.2],
      [1660, 0.1],
    ] as const) {
      expect((found?.[at + later] as number) / 0.5).toBeCloseTo(gain * 0.8613, 1)
    }
    const db = (samples: ArrayLike<number>) => impulseLevelsDb(samples, sampleRateHz, bands)
    const [is, wanted] = [db(found ?? []), db(response)]
    for (const [i, level] of is.entries()) {
      expect(Math.abs(level - (wanted[i] as number) + 20 * Math.log10(2)), `${bands[i]?.nominalHz} Hz`).toBeLessThan(
        0.1,
      )
    }
  })

  test('gives it back under noise that is 20 dB below, and tells how much noise is in it', () => {
    const { response: found, noise } = take(noisy(clean, 1))
    const db = (samples: ArrayLike<number>) => impulseLevelsDb(samples, sampleRateHz, bands)
    const [is, wanted, noiseDb] = [db(found ?? []), db(response), db(noise ?? [])]
    for (const [i, level] of is.entries()) {
      expect(Math.abs(level - (wanted[i] as number) + 20 * Math.log10(2)), `${bands[i]?.nominalHz} Hz`).toBeLessThan(
        0.6,
      )
      expect(level - (noiseDb[i] as number), `${bands[i]?.nominalHz} Hz`).toBeGreaterThan(12)
    }
  })

  test('is not moved by what a loudspeaker adds in harmonics', () => {
    const bent = sweepSignal(spec, sampleRateHz, 0.5).map((x) => x + 0.1 * x * x)
    const sound = convolved(bent, response)
    const [is, wanted] = [take(sound), take(convolved(sweepSignal(spec, sampleRateHz, 0.5), response))].map(
      ({ response: found }) => impulseLevelsDb(found ?? [], sampleRateHz, bands),
    ) as [Float64Array, Float64Array]
    for (const [i, level] of is.entries()) expect(level).toBeCloseTo(wanted[i] as number, 1)
    // A harmonic lands 0.21 s ahead and more: it would be half of the response otherwise.
  })

  test.each([-80, -12, 0, 3, 50, 200])('from a clock %i ppm fast is told within 5 ppm and set right', (ppm) => {
    const { driftPpm, response: found, findings } = take(noisy(onAnotherClock(clean, 1 + ppm * 1e-6), 4))
    expect(Math.abs((driftPpm as number) - ppm)).toBeLessThan(5)
    expect(findings.some(({ kind }) => kind === 'clock-drift')).toBe(Math.abs(ppm) > 8)
    // A sweep on the wrong clock would smear the arrival over 0.3 ms at 200 ppm: 5 samples.
    const at = Math.round(0.1 * sampleRateHz)
    const within = (reach: number) => rmsOf(found?.slice(at - reach, at + reach + 1) ?? []) ** 2 * (2 * reach + 1)
    expect(within(2) / within(60)).toBeGreaterThan(0.9)
  })

  test.each(Array.from({ length: 20 }, (_, i) => i + 1))('that is sound has nothing found in it, seed %i', (seed) => {
    expect(take(noisy(clean, seed)).findings).toEqual([])
  })

  test.each(Array.from({ length: 20 }, (_, i) => i + 1))(
    'with a noise during one sweep names the moment and takes the other sweep, seed %i',
    (seed) => {
      const which = 1 + (seed % 2)
      const fromS = 0.62 + 0.05 * (seed % 12) + (which - 1) * sweepSpacingS(spec)
      const burst = whiteNoise(0.12 * sampleRateHz, 0.12, seed)
      const { findings, sweepsUsed } = take(added(noisy(clean, seed), burst, Math.round(fromS * sampleRateHz)))
      const unsteady = findings.filter((finding) => finding.kind === 'unsteady-noise')
      expect(unsteady.length).toBeGreaterThan(0)
      expect(unsteady.every(({ sweep }) => sweep === which)).toBe(true)
      expect(Math.abs((unsteady[0]?.fromS as number) - fromS)).toBeLessThan(0.06)
      expect(Math.abs((unsteady.at(-1)?.toS as number) - fromS - 0.12)).toBeLessThan(0.06)
      expect(sweepsUsed).toEqual([3 - which])
    },
  )

  /** Silence laid into a recording: what follows comes later by so much. */
  const withGap = (samples: Float64Array, atS: number, lengthS = 0.02) => {
    const at = Math.round(atS * sampleRateHz)
    const gap = Math.round(lengthS * sampleRateHz)
    const later = new Float64Array(samples.length + gap)
    later.set(samples.subarray(0, at))
    later.set(samples.subarray(at), at + gap)
    return later
  }

  test.each(Array.from({ length: 12 }, (_, i) => ({ which: 1 + (i % 2), share: (8 + 7 * i) / 100 })))(
    'with a gap at $share of sweep $which names it, calls it no noise, and takes the other sweep',
    ({ which, share }) => {
      const fromS = 0.55 + share * spec.durationS + (which - 1) * sweepSpacingS(spec)
      const { findings, sweepsUsed, response: found } = take(withGap(noisy(clean, which), fromS))
      expect(findings).toHaveLength(1)
      expect(findings[0]).toMatchObject({ kind: 'gap', sweep: which })
      expect(findings[0]?.kind === 'gap' && findings[0].fromS).toBeCloseTo(fromS, 3)
      expect(findings[0]?.kind === 'gap' && findings[0].toS).toBeCloseTo(fromS + 0.02, 3)
      expect(sweepsUsed).toEqual([3 - which])
      const [is, wanted] = [found, take(clean).response].map((one) => impulseLevelsDb(one ?? [], sampleRateHz, bands))
      for (const [i, level] of (is as Float64Array).entries()) {
        expect(Math.abs(level - (wanted?.[i] as number)), `${bands[i]?.nominalHz} Hz`).toBeLessThan(0.8)
      }
    },
  )

  test('of few bits, or with silence before and behind it, has no gap', () => {
    const coarse = clean.map((sample) => Math.round(0.05 * sample * 128) / 128)
    for (const samples of [coarse, clean.map((sample) => Math.round(sample * 32768) / 32768)]) {
      expect(take(samples).findings.filter(({ kind }) => kind === 'gap')).toEqual([])
    }
  })

  test('that is played on and on has no noise in the sweeps before the next one', () => {
    const sound = convolved(sweepSignal({ ...spec, times: 3 }, sampleRateHz, 0.5), response)
    const { findings, sweepsUsed } = take(sound)
    expect(findings).toEqual([])
    expect(sweepsUsed).toEqual([1, 2])
  })

  test('of which one is whole takes that, and not one with a gap that stands where a part of another answers', () => {
    // Played over and over with a longer pause between: the end of the first, all of the second, a third with a gap, half a fourth.
    const twice = sweepSignal(spec, sampleRateHz, 0.5)
    const between = Math.round(0.1 * sampleRateHz)
    const onAndOn = new Float64Array(2 * twice.length + between)
    onAndOn.set(twice)
    onAndOn.set(twice, twice.length + between)
    const thirdAtS = sweepSpacingS(spec) * 2 + 0.6 + 0.5
    const heard = withGap(convolved(onAndOn, response), thirdAtS + 0.9 * spec.durationS)
    const from = Math.round(0.9 * sampleRateHz)
    const { startsAtS, findings, sweepsUsed } = take(
      heard.slice(from, Math.round((thirdAtS + sweepSpacingS(spec) + 0.5 * spec.durationS) * sampleRateHz)),
    )
    expect(startsAtS).toBeCloseTo(0.5 + sweepSpacingS(spec) - 0.9 + 40 / sampleRateHz, 4)
    expect(findings).toMatchObject([{ kind: 'gap', sweep: 2 }])
    expect(sweepsUsed).toEqual([1])
  })

  test.each([0.002, 0.02])(
    'with a gap of %f s in the noise between the sweeps names it, and tells no clock by it',
    (lengthS) => {
      const fromS = 0.55 + spec.durationS + 0.65
      const { findings, sweepsUsed, driftPpm } = take(withGap(noisy(clean, 3), fromS, lengthS))
      expect(findings).toHaveLength(1)
      expect(findings[0]?.kind === 'gap' && findings[0].fromS).toBeCloseTo(fromS, 3)
      expect(sweepsUsed).toHaveLength(1)
      expect(findings[0]?.kind === 'gap' && findings[0].sweep).toBe(3 - (sweepsUsed[0] as number))
      expect(driftPpm).toBeNull()
    },
  )

  test('that a gate closed between the sweeps has no gap', () => {
    const gated = noisy(clean, 5).map((sample, n) => (n / sampleRateHz > 2.3 && n / sampleRateHz < 2.8 ? 0 : sample))
    expect(take(gated).findings.filter(({ kind }) => kind === 'gap')).toEqual([])
  })

  test('that ends after a sweep with a gap says both', () => {
    const cut = take(withGap(clean, 1.6).slice(0, Math.round(2.88 * sampleRateHz)))
    expect(cut.findings).toMatchObject([{ kind: 'gap', sweep: 1 }, { kind: 'one-sweep' }])
    expect(cut.sweepsUsed).toEqual([1])
  })

  test('that was clipped says when', () => {
    const clipped = clean.map((sample) => Math.max(-1, Math.min(1, 2.6 * sample)))
    const found = take(clipped).findings.filter((finding) => finding.kind === 'clipped')
    expect(found.length).toBeGreaterThan(0)
    expect(found[0]?.fromS).toBeGreaterThan(0.5)
    expect(found.at(-1)?.toS).toBeLessThan(0.5 + 2 * sweepSpacingS(spec) + 0.2)
  })

  test('turned up between the sweeps says by how much', () => {
    const louder = clean.map((sample, n) => (n / sampleRateHz > 2.6 ? 1.26 : 1) * sample)
    const found = take(louder).findings.find((finding) => finding.kind === 'level-changed')
    expect(found?.changeDb).toBeCloseTo(2, 1)
  })

  test('that ends after the first sweep gives its response, and says that clocks cannot be told', () => {
    const cut = take(clean.slice(0, Math.round(2.86 * sampleRateHz)))
    expect(cut.findings).toEqual([{ kind: 'one-sweep' }])
    expect(cut.driftPpm).toBeNull()
    expect(cut.sweepsUsed).toEqual([1])
    expect(cut.response).not.toBeNull()
  })

  test('that ends while the room still rings says how much is missing', () => {
    const cut = take(clean.slice(0, clean.length - Math.round(0.5 * sampleRateHz))).findings
    expect(cut).toHaveLength(1)
    expect(cut[0]?.kind === 'cut-short' && Math.abs(cut[0].missingS - 0.4)).toBeLessThan(0.15)
  })

  test('that ends in the middle of the second sweep takes the first alone', () => {
    const cut = take(clean.slice(0, clean.length - Math.round(1.3 * sampleRateHz)))
    expect(cut.findings.map(({ kind }) => kind)).toContain('cut-short')
    expect(cut.sweepsUsed).toEqual([1])
    const whole = take(clean)
    const [is, wanted] = [cut, whole].map(({ response: found }) => impulseLevelsDb(found ?? [], sampleRateHz, bands))
    for (const [i, level] of (is as Float64Array).entries()) expect(level).toBeCloseTo(wanted?.[i] as number, 1)
  })

  test.each([
    ['noise', (n: number) => whiteNoise(n, 0.1, 9)],
    ['pink noise', (n: number) => pinkNoise({ sampleRateHz, durationS: n / sampleRateHz, seed: 3 })],
    ['silence', (n: number) => new Float64Array(n)],
    ['hum', (n: number) => Float64Array.from({ length: n }, (_, i) => 0.3 * Math.sin((2 * Math.PI * 50 * i) / 16000))],
  ])('with nothing but %s in it has no sweep', (_, make) => {
    const { response: found, findings } = take(make(5 * sampleRateHz))
    expect(found).toBeNull()
    expect(findings).toEqual([{ kind: 'no-sweep' }])
  })

  test('of a recorder with fewer samples than the player finds the same arrival, not a smeared one', () => {
    // At 44.1 kHz the usual sweep still fits: what the recorder takes is the sweep as it was played.
    const rateHz = 44100
    const { response: found, findings } = sweepTake(
      { samples: sweepSignal(usualSweep, rateHz, 0.5), sampleRateHz: rateHz },
      usualSweep,
    )
    expect(findings).toEqual([])
    const at = Math.round(0.1 * rateHz)
    const energy = (samples: Float64Array) => samples.reduce((sum, sample) => sum + sample * sample, 0)
    expect(energy((found as Float64Array).slice(at - 9, at + 10)) / energy(found as Float64Array)).toBeGreaterThan(0.98)
    const told = thirdOctaveBands(31.5, 12500)
    for (const level of impulseLevelsDb(found ?? [], rateHz, told)) {
      expect(Math.abs(level - 20 * Math.log10(0.5))).toBeLessThan(0.1)
    }
  })

  test('that is too short or holds no numbers is refused in words', () => {
    expect(() => take(new Float64Array(1000))).toThrow(/samples.length is 1000; allowed is a whole number from 24000/)
    const broken = clean.slice()
    broken[77] = Number.NaN
    expect(() => take(broken)).toThrow(/samples\[77\] is NaN/)
  })
})

describe('two microphones', () => {
  const later = (samples: Float64Array, by: number) => added(new Float64Array(samples.length + by), samples, by)

  test('on one recorder share a clock and a beginning: their travel times can be compared', () => {
    const behind = later(clean, 33).map((sample) => 0.4 * sample)
    const drifted = (samples: Float64Array) => ({ samples: onAnotherClock(samples, 1 + 60e-6), sampleRateHz })
    const pair = sweepPair({ front: drifted(clean), behind: drifted(behind), oneClock: true }, spec)
    expect(pair.delayS).toBeCloseTo(33 / sampleRateHz, 4)
    expect(pair.behind.driftPpm).toBeCloseTo(60, 0)
    expect(pair.behind.startsAtS).toBe(pair.front.startsAtS)
    const db = (samples: Float64Array | null) => impulseLevelsDb(samples ?? [], sampleRateHz, bands)
    const [b, f] = [db(pair.behind.response), db(pair.front.response)]
    for (const [i, level] of b.entries()) expect(level - (f[i] as number)).toBeCloseTo(20 * Math.log10(0.4), 1)
  })

  test('on two recorders each have their own, and no travel time is told', () => {
    const behind = { samples: onAnotherClock(later(clean, 5000), 1 - 40e-6), sampleRateHz }
    const pair = sweepPair({ front: { samples: clean, sampleRateHz }, behind, oneClock: false }, spec)
    expect(pair.delayS).toBeNull()
    expect(pair.front.driftPpm).toBeCloseTo(0, 0)
    expect(pair.behind.driftPpm).toBeCloseTo(-40, 0)
    expect((pair.behind.startsAtS as number) - (pair.front.startsAtS as number)).toBeCloseTo(5000 / sampleRateHz, 3)
  })
})
