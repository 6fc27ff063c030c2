import { requireInRange } from '../../../../src/acoustics/numeric-range.ts'

/**
 * Decay time of an impulse response by backward integration:  E(t) = ∫_t^∞ h² dt,  a straight line through 10 lg E(t) between two
 * levels below its start, extended to 60 dB.
 *
 * @param samples       the response, already filtered if one band is wanted
 * @param sampleRateHz  above 0
 * @param spec          fromDb and toDb below the start, default −5 and −35
 * @returns  s
 * @throws RangeError for a silent response, one that does not fall as far as toDb, or arguments out of range
 * Source: Schroeder, J. Acoust. Soc. Am. 37 (1965), 409; the levels of ISO 3382-1 (T30).
 */
export function decayFromResponseS(
  samples: ArrayLike<number>,
  sampleRateHz: number,
  spec: { fromDb: number; toDb: number } = { fromDb: -5, toDb: -35 },
): number {
  requireInRange('sampleRateHz', sampleRateHz, { above: 0, unit: 'Hz' })
  requireInRange('fromDb', spec.fromDb, { max: 0, unit: 'dB' })
  requireInRange('toDb', spec.toDb, { below: spec.fromDb, unit: 'dB' })
  const rest = new Float64Array(samples.length)
  let energy = 0
  for (let i = samples.length - 1; i >= 0; i--) {
    energy += (samples[i] as number) ** 2
    rest[i] = energy
  }
  requireInRange('energy of samples', energy, { above: 0 })
  let count = 0
  let sumT = 0
  let sumL = 0
  let sumTT = 0
  let sumTL = 0
  let reached = false
  for (let i = 0; i < samples.length; i++) {
    const levelDb = 10 * Math.log10(Math.max((rest[i] as number) / energy, 1e-300))
    if (levelDb > spec.fromDb) continue
    if (levelDb < spec.toDb) {
      reached = true
      break
    }
    const t = i / sampleRateHz
    count += 1
    sumT += t
    sumL += levelDb
    sumTT += t * t
    sumTL += t * levelDb
  }
  if (!reached || count < 2) {
    throw new RangeError(
      `the response does not fall from ${spec.fromDb} to ${spec.toDb} dB within its ${samples.length} samples; allowed is a longer or a cleaner one`,
    )
  }
  const slopeDbPerS = (count * sumTL - sumT * sumL) / (count * sumTT - sumT * sumT)
  return -60 / slopeDbPerS
}
