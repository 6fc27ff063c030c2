import { octaveBands } from '../../../src/acoustics/bands/octave-bands.ts'
import { octaveDecays } from '../../../src/acoustics/measuring/impulse-decay.ts'
import { impulseLevelsDb } from '../../../src/acoustics/measuring/impulse-levels.ts'
import { exponentialSweep, harmonicLeadS, sweepSignal, usualSweep } from '../../../src/acoustics/measuring/sweep.ts'
import { deconvolved, responsesInARow } from '../../../src/acoustics/measuring/sweep-response.ts'
import { sweepTake } from '../../../src/acoustics/measuring/sweep-take.ts'
import { readWav } from '../../../src/acoustics/signals/read-wav.ts'
import { writeWav } from '../../../src/acoustics/signals/write-wav.ts'
import { onAnotherClock, whiteNoise } from '../../unit/acoustics/measuring/by-hand.ts'
import type { Check, CheckGroup } from '../check.ts'
import digits from '../reference/sweep-digits.json' with { type: 'json' }

const sampleRateHz = 48000
const asPlayed = '20 Hz to 20 kHz in 8 s at 48 kHz'
const unfaded = { ...usualSweep, fadeInS: 0, fadeOutS: 0 }

function once<T>(compute: () => T): () => T {
  let value: { of: T } | undefined
  return () => {
    value ??= { of: compute() }
    return value.of
  }
}

const sweep = once(() => exponentialSweep(unfaded, sampleRateHz))

const sampleChecks: Check[] = digits.chirp.map(({ timeS, value }) => ({
  id: `sweep-sample-${timeS}`,
  kind: 'method',
  quantity: `Sample of the sweep at ${timeS} s`,
  unit: '1',
  source: 'scipy',
  place: 'scipy.signal.chirp, logarithmic',
  input: asPlayed,
  expected: value,
  tolerance: 1e-7,
  toleranceReason: 'some 23 000 turns of phase in double precision',
  computed: () => sweep()[Math.round(timeS * sampleRateHz)] as number,
}))

/** Frequency by rising zero crossings within 10 ms, or ten periods of low ones. */
function crossingHz(timeS: number, aboutHz: number): number {
  const half = Math.max(0.005, 5 / aboutHz)
  const at: number[] = []
  for (let n = Math.round((timeS - half) * sampleRateHz); n < (timeS + half) * sampleRateHz; n++) {
    const [a, b] = [sweep()[n] as number, sweep()[n + 1] as number]
    if (a < 0 && b >= 0) at.push((n + a / (a - b)) / sampleRateHz)
  }
  // The period in the middle of those seen: on an exponential sweep that is the one at the time asked for.
  const nearest = at.findIndex((time) => time > timeS)
  const [before, after] = [at[nearest - 4] as number, at[nearest + 3] as number]
  const middle = (before + after) / 2
  return (7 / (after - before)) * Math.exp(((timeS - middle) * Math.log(1000)) / 8)
}

const frequencyChecks: Check[] = [
  { timeS: 1, expected: 47.427 },
  { timeS: 4, expected: 632.456 },
  { timeS: 6, expected: 3556.559 },
].map(({ timeS, expected }) => ({
  id: `sweep-frequency-${timeS}`,
  kind: 'outside',
  quantity: `Frequency of the sweep at ${timeS} s, from its zero crossings`,
  unit: 'Hz',
  source: 'farina-2000-swept-sine',
  place: 'the frequency rises as f₁ (f₂/f₁)^{t/T}: 20 · 1000^{t/8}, worked by hand',
  input: asPlayed,
  expected,
  tolerance: 0.002 * expected,
  toleranceReason: 'zero crossings are told by straight lines between samples, and seven periods are averaged',
  computed: () => crossingHz(timeS, expected),
}))

const harmonicChecks: Check[] = [2, 3].map((order) => ({
  id: `sweep-harmonic-${order}`,
  kind: 'outside',
  quantity: `How far ahead of the response harmonic ${order} lands`,
  unit: 'ms',
  source: 'farina-2000-swept-sine',
  place: `Δt = T ln ${order} / ln(f₂/f₁)`,
  input: `${asPlayed}, through 2x + 0.2x² + 0.2x³`,
  expected: (8000 * Math.log(order)) / Math.log(1000),
  tolerance: 0.05,
  toleranceReason:
    'two samples: harmonics reach beyond the band of the sweep, so that their peak is not quite as narrow',
  computed: () => {
    const bent = sweep().map((x) => 0.2 * x + 0.02 * x * x + 0.02 * x ** 3)
    const row = responsesInARow(deconvolved({ samples: bent, sampleRateHz }, { ...unfaded, times: 1 }))
    const about = row.length - Math.round(harmonicLeadS(unfaded, order) * sampleRateHz)
    let [best, highest] = [0, 0]
    for (let n = about - 2400; n < about + 2400; n++) {
      // The second harmonic of a sine is a cosine: its envelope, not its samples, has the peak in the middle.
      const energy = (row[n] as number) ** 2 + (((row[n + 1] as number) - (row[n - 1] as number)) / 2) ** 2
      if (energy > highest) [best, highest] = [n, energy]
    }
    return ((row.length - best) / sampleRateHz) * 1000
  },
}))

/** A recording of the sweeps through SciPy's chain of second-order sections, run here sample by sample. */
const filtered = once(() => {
  let samples = Float64Array.from(sweepSignal(usualSweep, sampleRateHz, 0.5))
  for (const [b0 = 0, b1 = 0, b2 = 0, , a1 = 0, a2 = 0] of digits.sos) {
    let [s1, s2] = [0, 0]
    samples = samples.map((x) => {
      const y = b0 * x + s1
      s1 = b1 * x - a1 * y + s2
      s2 = b2 * x - a2 * y
      return y
    })
  }
  return samples
})
const found = once(() => sweepTake({ samples: filtered(), sampleRateHz }, usualSweep))

const filterChecks: Check[] = digits.thirdOctavesDb.map(({ centreHz, levelDb }) => ({
  id: `sweep-filter-${Math.round(centreHz)}`,
  kind: 'method',
  quantity: `Third octave ${Math.round(centreHz)} Hz of a filter, found by sweeps`,
  unit: 'dB',
  source: 'scipy',
  place: 'scipy.signal.sosfreqz, 4000 lines a band',
  input: `${asPlayed}, twice, through a high-pass, a dip, a lift and a low-pass`,
  expected: levelDb - 20 * Math.log10(2),
  tolerance: 0.05,
  toleranceReason: 'the lines of a response of 3 s against 4000 lines a band, at the edges of a band of 9 Hz',
  computed: () => {
    const band = {
      index: 0,
      nominalHz: centreHz,
      centreHz,
      lowerHz: centreHz * 10 ** -0.05,
      upperHz: centreHz * 10 ** 0.05,
    }
    return impulseLevelsDb(found().response ?? [], sampleRateHz, [band])[0] as number
  },
}))

const driftCheck: Check = {
  id: 'sweep-drift',
  kind: 'law',
  quantity: 'Drift of a recorder’s clock, found from two sweeps',
  unit: 'ppm',
  source: 'farina-2000-swept-sine',
  place: 'a clock that runs faster by 50 ppm takes 50 samples more in a million',
  input: `${asPlayed}, twice, recorded through a filter and interpolated to a clock 50 ppm faster, white noise 20 dB under it`,
  expected: 50,
  tolerance: 5,
  toleranceReason: 'a tenth of the drift; over 8 s of sweep 5 ppm are 40 µs',
  computed: () => {
    const samples = onAnotherClock(filtered(), 1 + 50e-6)
    const noise = whiteNoise(samples.length, 0.02, 3)
    const noisy = samples.map((sample, n) => sample + (noise[n] as number))
    return sweepTake({ samples: noisy, sampleRateHz }, usualSweep).driftPpm ?? Number.NaN
  },
}

/** A tone of 1 kHz that falls by 60 dB in 0.8 s, in noise. */
const decaying = (noiseRms: number): Float64Array =>
  whiteNoise(3 * sampleRateHz, noiseRms, 5).map((noise, n) => {
    const t = n / sampleRateHz - 0.1
    return noise + (t < 0 ? 0 : 10 ** (-3 * (t / 0.8)) * Math.sin(2 * Math.PI * 1000 * t))
  })

const decayChecks: Check[] = [
  {
    at: 'without noise',
    noiseRms: 0,
    tolerance: 0.004,
    reason: 'half a per cent: the filter takes a few ms to let go',
  },
  {
    at: 'in white noise that is 48 dB under its start within the octave',
    noiseRms: 0.016,
    tolerance: 0.016,
    reason:
      'two per cent: at −25 dB the noise in 15 ms, the time of one independent value, still moves the curve by 0.2 dB',
  },
].map(({ at, noiseRms, tolerance, reason }, i) => ({
  id: `decay-exponential-${i === 0 ? 'clean' : 'noise'}`,
  kind: 'law',
  quantity: `T20 of a tone that falls by 60 dB in 0.8 s, ${at}`,
  unit: 's',
  source: 'iso-3382-1',
  place: 'decay time: the time for 60 dB',
  input: '1 kHz, 3 s at 48 kHz, octave of 1 kHz',
  expected: 0.8,
  tolerance,
  toleranceReason: reason,
  computed: () => octaveDecays(decaying(noiseRms), sampleRateHz, octaveBands(1000, 1000))[0]?.t20S ?? Number.NaN,
}))

const ditherCheck: Check = {
  id: 'wav-dither',
  kind: 'outside',
  quantity: 'Mean square of what rounding to 16 bits with dither leaves, in squared steps',
  unit: '1',
  source: 'lipshitz-1992-dither',
  place: 'triangular dither of two steps peak to peak: Δ²/4 in all, whatever the signal',
  input: 'a sine of 0.3 steps, 200 000 samples',
  expected: 0.25,
  tolerance: 0.005,
  toleranceReason: 'six standard deviations of a mean over 200 000 samples',
  computed: () => {
    const tone = Float64Array.from({ length: 200000 }, (_, n) => (0.3 / 32768) * Math.sin(0.01 * n))
    const read = readWav(writeWav({ sampleRateHz, channels: [tone] }, 'pcm16')).channels[0] ?? new Float32Array()
    return tone.reduce((sum, sample, n) => sum + (((read[n] as number) - sample) * 32768) ** 2, 0) / tone.length
  },
}

export const sweepChecks: CheckGroup = {
  title: 'Sweeps, impulse responses and decay',
  checks: [
    ...sampleChecks,
    ...frequencyChecks,
    ...harmonicChecks,
    ...filterChecks,
    driftCheck,
    ...decayChecks,
    ditherCheck,
  ],
}
