import { describe, expect, test } from 'vitest'
import {
  exponentialSweep,
  harmonicLeadS,
  sweepFor,
  sweepFrequencyHz,
  sweepRateS,
  sweepSignal,
  sweepSignalS,
  sweepSpacingS,
  usualSweep,
} from '../../../../src/acoustics/measuring/sweep.ts'

const spec = { ...usualSweep, fromHz: 50, toHz: 7000, durationS: 1.5, fadeInS: 0.05, afterS: 1 }
const sampleRateHz = 16000

describe('an exponential sweep', () => {
  test('begins and ends at its frequencies and takes as long for every octave', () => {
    expect(sweepFrequencyHz(spec, 0)).toBeCloseTo(50, 9)
    expect(sweepFrequencyHz(spec, 1.5)).toBeCloseTo(7000, 6)
    const octaveS = sweepRateS(spec) * Math.LN2
    expect(sweepFrequencyHz(spec, 0.3 + octaveS) / sweepFrequencyHz(spec, 0.3)).toBeCloseTo(2, 9)
    expect(harmonicLeadS(spec, 2)).toBeCloseTo(octaveS, 9)
    expect(harmonicLeadS(spec, 1)).toBe(0)
  })

  test('is silent at both ends and reaches full scale between', () => {
    const sweep = exponentialSweep(spec, sampleRateHz)
    expect(sweep.length).toBe(24000)
    expect(Math.abs(sweep[0] as number)).toBe(0)
    expect(Math.abs(sweep.at(-1) as number)).toBeLessThan(0.01)
    expect(Math.max(...sweep)).toBeGreaterThan(0.99)
    expect(Math.max(...sweep)).toBeLessThanOrEqual(1)
  })

  test('as another clock has it, is the same sweep at other moments', () => {
    // A clock twice as good as 1 % fast: sample 101 · n is sample 100 · n of the right one.
    const right = exponentialSweep(spec, sampleRateHz)
    const fast = exponentialSweep(spec, sampleRateHz, 1.01)
    for (let n = 0; n < 200; n++) expect(fast[101 * n]).toBeCloseTo(right[100 * n] as number, 8)
  })

  test('is played as often as wanted, with silence round it', () => {
    const signal = sweepSignal(spec, sampleRateHz, 0.25)
    expect(signal.length).toBe(Math.ceil(sweepSignalS(spec) * sampleRateHz))
    const one = exponentialSweep(spec, sampleRateHz)
    for (const time of [0, 1]) {
      const from = (spec.beforeS + time * sweepSpacingS(spec)) * sampleRateHz
      for (const n of [100, 5000, 20000]) expect(signal[from + n]).toBeCloseTo(0.25 * (one[n] as number), 6)
      expect(signal.subarray(from + 24000, from + 40000).every((sample) => sample === 0)).toBe(true)
    }
    expect(signal.subarray(0, spec.beforeS * sampleRateHz).every((sample) => sample === 0)).toBe(true)
  })

  test('ends lower and so much earlier for a device that takes few samples, and is otherwise the same', () => {
    const heard = sweepFor(usualSweep, 16000)
    expect(heard.toHz).toBe(7200)
    expect(sweepRateS(heard)).toBeCloseTo(sweepRateS(usualSweep), 12)
    expect(sweepSpacingS(heard)).toBeCloseTo(sweepSpacingS(usualSweep), 12)
    // A recorder does not change what is played: its samples are those of the whole sweep, as far as it hears it.
    const [part, whole] = [exponentialSweep(heard, 48000), exponentialSweep(usualSweep, 48000)]
    for (const n of [5000, 100000, 300000]) expect(part[n]).toBeCloseTo(whole[n] as number, 6)
    expect(sweepFor(usualSweep, 48000)).toEqual(usualSweep)
  })

  test.each([
    [{ ...spec, fromHz: 1 }, /fromHz is 1; allowed is a finite number from 5 to 100000 Hz/],
    [{ ...spec, toHz: 80 }, /toHz is 80; allowed is a finite number from 100 /],
    [{ ...spec, durationS: 0.2 }, /durationS is 0.2; allowed is .* from 0.5 to 60 s/],
    [{ ...spec, fadeInS: 1 }, /fadeInS is 1; allowed is .* to 0.75 s/],
    [{ ...spec, times: 9 }, /times is 9; allowed is a whole number from 1 to 4/],
    [{ ...spec, toHz: 8000 }, /toHz is 8000; allowed is a finite number below 8000 Hz/],
    [{ ...spec, beforeS: Number.NaN }, /beforeS is NaN/],
  ])('is refused out of range, in words', (wrong, words) => {
    expect(() => sweepSignal(wrong, sampleRateHz)).toThrow(words)
  })
})
