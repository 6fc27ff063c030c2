import { type Complex, fromPolar, multiply } from '../complex.ts'
import { absorptionDbPerM } from '../medium/absorption.ts'
import { type Air, requireAir } from '../medium/air.ts'
import { requireInRange } from '../numeric-range.ts'
import { inverseRealDft } from '../signals/dft.ts'
import type { Hall } from './hall.ts'
import { axesOf } from './hall-axes.ts'
import { hallFieldCeilingHz } from './hall-field.ts'

export type HallResponseSpec = {
  /** 1000 … 192 000 Hz. */
  sampleRateHz: number
  /** Samples that are wanted, 256 … 2²³. */
  length: number
  /** Distance that the direct sound travels, m, and when it is to arrive, s. */
  directM: number
  leadS: number
  /** The frequencies between which the field is asked, 10 … 500 Hz. */
  fromHz: number
  toHz: number
}

/** Length of the transform re the length wanted; a tenth of it lies before the start and takes what a band limit spreads there. */
const transformRatio = 1.25
const shareBefore = 0.1

/** What comes round again is to be this far down, dB: by the hall's own slowest decay and, where that is less, by damping. */
const wrappedDb = 60
/** Damping over the transform, dB: some always, and no more than the field's own error allows to be undone. */
const dampingDb = { min: 15, max: 50 }

/**
 * Impulse response of the sum of images below an upper frequency, from its lines:
 *
 *   h(t) = e^{σt} · inverse transform of p_σ(f),  p_σ = Σ images, each times e^{−σr/c}
 *
 * A transform repeats itself after its length, so that a hall which rings longer would fold over. Every image that arrives at t = r/c is
 * therefore damped by e^{−σt} within the field (hallField's dampingPerM) and raised again afterwards: nothing is lost, but what comes round again
 * has been damped by the length of the transform more than it is raised.
 *
 * @param fieldAt  field at the listener for a frequency and a damping, 1/m, with any weight of the caller's
 * @param hall     for its slowest decay
 * @param air      the medium
 * @param spec     see HallResponseSpec
 * @returns        `length` samples
 * @throws RangeError for arguments out of range
 * Source: the transform at a complex frequency, as in the numerical inversion of Laplace transforms; images, see hallField.
 * Accuracy: waveform within 3 % of the exact field of a point source, stretch by stretch. What a source itself rings on for τ comes out e^{στ}
 *           too strong: in a bare brick hall and a response of 2.7 s, σ = 1.7/s, 7 % for 40 ms; a third of that in others.
 */
export function hallFieldResponse(
  fieldAt: (frequencyHz: number, dampingPerM: number) => Complex,
  hall: Hall,
  air: Air,
  spec: HallResponseSpec,
): Float32Array {
  requireAir(air)
  const sampleRateHz = requireInRange('sampleRateHz', spec.sampleRateHz, { min: 1000, max: 192000, unit: 'Hz' })
  const length = requireInRange('length', spec.length, { min: 256, max: 2 ** 23, integer: true })
  const directM = requireInRange('directM', spec.directM, { min: 0, max: 1e4, unit: 'm' })
  const leadS = requireInRange('leadS', spec.leadS, { min: 0, max: length / sampleRateHz, unit: 's' })
  const toHz = requireInRange('toHz', spec.toHz, { min: 10, max: hallFieldCeilingHz, unit: 'Hz' })
  const fromHz = requireInRange('fromHz', spec.fromHz, { min: 10, max: toHz, unit: 'Hz' })
  const total = 2 * Math.ceil((transformRatio * length) / 2)
  const before = Math.round(shareBefore * total)
  const dampingPerM = dampingOver((total / sampleRateHz) * air.speedOfSoundMps, hall, air, [fromHz, toHz])
  const bins = total / 2 + 1
  const spectrum = { re: new Float64Array(bins), im: new Float64Array(bins) }
  const aheadS = directM / air.speedOfSoundMps - leadS - before / sampleRateHz
  const stepHz = sampleRateHz / total
  for (let k = Math.ceil(fromHz / stepHz); k * stepHz <= toHz && k < bins; k++) {
    const frequencyHz = k * stepHz
    const { re, im } = multiply(fieldAt(frequencyHz, dampingPerM), fromPolar(1, 2 * Math.PI * frequencyHz * aheadS))
    spectrum.re[k] = re
    spectrum.im[k] = im
  }
  const damped = inverseRealDft(spectrum, total)
  const perSample = (dampingPerM * air.speedOfSoundMps) / sampleRateHz
  const arrival = leadS * sampleRateHz - (directM / air.speedOfSoundMps) * sampleRateHz
  return Float32Array.from({ length }, (_, i) => (damped[i + before] as number) * Math.exp(perSample * (i - arrival)))
}

/** Loss along every path, 1/m, with which what comes round after `lengthM` is far enough down. */
function dampingOver(lengthM: number, hall: Hall, air: Air, frequenciesHz: number[]): number {
  const dbPerNeper = 20 * Math.LOG10E
  const slowestDb = Math.min(
    ...frequenciesHz.map((frequencyHz) => {
      // A wave that grazes a pair of walls loses half of what the others lose there, β₁ + β₂ over the length; the air takes its share.
      const walls = axesOf(hall, frequencyHz)
        .map(({ low, high, lengthM }) => (low.admittance + high.admittance) / (2 * lengthM))
        .reduce((sum, loss) => sum + loss)
      return (walls * dbPerNeper + absorptionDbPerM(frequencyHz, air)) * lengthM
    }),
  )
  return Math.max(dampingDb.min, Math.min(dampingDb.max, wrappedDb - slowestDb)) / dbPerNeper / lengthM
}
