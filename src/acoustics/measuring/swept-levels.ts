import type { Band } from '../bands/octave-bands.ts'
import type { BandEstimates } from './estimate.ts'
import { certain } from './estimate.ts'
import type { Arrivals } from './first-reflection.ts'
import {
  type CutResponse,
  cutBeforeReflection,
  cutNoise,
  type MeasuredLevels,
  measuredLevelsDb,
  noiseScatterDb,
  openStretch,
  type PlaceResponse,
} from './impulse-cut.ts'
import { recordingBands } from './recording-bands.ts'

/** What one microphone has of a sweep, in recordingBands, dB re the sweep as it was played. */
export type SweptLevels = {
  /** All that arrives. */
  whole: BandEstimates
  /** What the box sends by itself; null below validFromHz. */
  box: BandEstimates
  /** From where on that is told, Hz; 0 if nothing had to be cut. */
  validFromHz: number
  arrivals: Arrivals
}

/** The cut is within 0.5 dB of the box in free air above its limit: taken for two standard errors. */
const cutErrorDb = 0.25
/** Error of a level where only one sweep tells, so that its noise is not known, dB: ours, as the entered levels of a meter. */
const unknownNoiseErrorDb = 0.5

/**
 * Levels of one place: all of its response, and the response cut off before its first reflection.
 *
 * @returns  null in bands that the rate does not hold, and where response and noise together are less than 3 dB above the noise
 * @throws   RangeError as cutBeforeReflection
 */
export function sweptLevels(place: PlaceResponse): SweptLevels {
  const { response, noise, sampleRateHz } = place
  const bands = recordingBands.filter(({ upperHz }) => upperHz <= sampleRateHz / 2)
  const cut = cutBeforeReflection(response, sampleRateHz)
  const { validFromHz, arrivals } = cut
  const whole = estimates(
    measuredLevelsDb(response, noise, sampleRateHz, bands),
    noise && noiseScatterDb(response, noise, sampleRateHz, bands),
    0,
  )
  const box = estimates(...boxLevels(cut, place, bands), cutErrorDb)
  return {
    whole: inAllBands(whole),
    box: inAllBands(box.map((level, i) => ((bands[i]?.lowerHz ?? 0) >= validFromHz * 0.9999 ? level : null))),
    validFromHz,
    arrivals,
  }
}

/** Levels of a cut response and the scatter that the noise in its window leaves. */
function boxLevels(
  cut: CutResponse,
  { noise, sampleRateHz }: PlaceResponse,
  bands: readonly Band[],
): [MeasuredLevels, MeasuredLevels | null] {
  if (!noise) return [measuredLevelsDb(cut.samples, null, sampleRateHz, bands), null]
  const left = cutNoise(cut, noise, sampleRateHz)
  const [from, to] = openStretch(cut, sampleRateHz)
  // Only what is open has independent lines.
  const scatter = noiseScatterDb(cut.samples.slice(from, to), left.slice(from, to), sampleRateHz, bands)
  return [measuredLevelsDb(cut.samples, left, sampleRateHz, bands), scatter]
}

const estimates = (levels: MeasuredLevels, scatter: MeasuredLevels | null, ownErrorDb: number): BandEstimates =>
  levels.map((levelDb, i) =>
    levelDb === null || !Number.isFinite(levelDb)
      ? null
      : {
          levelDb,
          errorDb: Math.hypot(scatter ? (scatter[i] ?? 0) : unknownNoiseErrorDb, ownErrorDb),
          freedom: certain,
        },
  )

const inAllBands = (levels: BandEstimates): BandEstimates => recordingBands.map((_, i) => levels[i] ?? null)
