import {
  type Air,
  amplitudeLevelDb,
  bandLevelsDb,
  beamwidthRad,
  type Complex,
  hornControlHz,
  hornMouthPattern,
  impulseResponse,
  magnitude,
  multiply,
} from '../../../acoustics/index.ts'
import { type AirState, airOf, type InAir } from '../../scene/air.ts'
import { late, leadInS, type Responses } from '../../scene/responses.ts'
import { spectrumBands } from '../../scene/third-octaves.ts'

const degree = Math.PI / 180

/** The bass frequency that the widget asks a horn for, Hz: the low end of a kick drum. */
export const bassHornHz = 60

/** Ranges of the widget's horn. */
export const hornRange = { mouthM: { min: 0.05, max: 6 }, coverageDeg: { min: 40, max: 120 } } as const

/** Smallest and largest mouth over wavelength of the computed beamwidths: 6 m at 18 kHz is 315 wavelengths. */
const mouthOverWavelengths = { from: 0.1, to: 320, perOctave: 24 }

/** Directions of the pattern, degrees: the front half, by whole degrees. */
export const patternDeg: readonly number[] = Array.from({ length: 181 }, (_, index) => index - 90)

/**
 * A horn lets go, by our definition, at the frequency below which its beam is always wider than nominal by more than a
 * fifth, or by more than 10° if that is more. (Above it the beam may be narrower than nominal, and mostly is at first.)
 */
export const widestAllowedDeg = (coverageDeg: number): number => coverageDeg + Math.max(10, coverageDeg / 5)

/** One point of the beamwidth curve; null where the pattern is nowhere in front 6 dB down. */
export type BeamwidthPoint = { mouthOverWavelength: number; beamwidthDeg: number | null }

/** How one coverage angle's beamwidth depends on the mouth in wavelengths: one curve for every size of mouth. */
export type HornCurve = {
  coverageDeg: number
  points: BeamwidthPoint[]
  /** Mouth over wavelength at which the horn lets go. */
  letsGoAt: number
  /** The narrowest point above, if the beam there is narrower than nominal by a tenth or more. */
  waist: { mouthOverWavelength: number; beamwidthDeg: number } | null
  /**
   * The widest point above, if the beam there is wider than allowed by a tenth or more: at wide angles the sharp rim
   * makes a dip straight ahead, and against a dip the sides are not down.
   */
  reopens: BeamwidthPoint | null
}

export type HornQuestion = InAir & { mouthM: number; coverageDeg: number; frequencyHz: number }

export type HornAnswer = {
  curve: HornCurve
  letsGoHz: number
  /** Keele's rule for the same mouth, Hz. */
  ruleHz: number
  /** Mouth that would hold this angle down to bassHornHz, m: computed, and by the rule. */
  bassMouthM: number
  bassMouthByRuleM: number
  mouthOverWavelength: number
  /** At the question's frequency: beamwidth, and the level at patternDeg, dB re straight ahead. */
  beamwidthDeg: number | null
  patternDb: number[]
  /** Beamwidth at the middle of each third octave (spectrumBands). */
  bandBeamwidthsDeg: (number | null)[]
  /** Third-octave levels (spectrumBands) at 90° off, dB re straight ahead. */
  besideDb: number[]
}

/** Everything that the horn's figure shows. Throws RangeError for a horn or a frequency out of range. */
export function hornAnswer({ mouthM, coverageDeg, frequencyHz, air: state }: HornQuestion): HornAnswer {
  const air = airOf(state)
  const curve = hornCurve(coverageDeg)
  const pattern = horizontalPattern(mouthM, coverageDeg, frequencyHz, air)
  const levelDb = (angleRad: number) => amplitudeLevelDb(magnitude(pattern(angleRad)))
  const ruleHz = hornControlHz(mouthM, coverageDeg * degree, air)
  const letsGoHz = (curve.letsGoAt * air.speedOfSoundMps) / mouthM
  return {
    curve,
    letsGoHz,
    ruleHz,
    bassMouthM: (mouthM * letsGoHz) / bassHornHz,
    bassMouthByRuleM: (mouthM * ruleHz) / bassHornHz,
    mouthOverWavelength: (mouthM * frequencyHz) / air.speedOfSoundMps,
    beamwidthDeg: inDegrees(beamwidthRad(levelDb, { symmetric: true })),
    patternDb: patternDeg.map((angleDeg) => levelDb(Math.abs(angleDeg) * degree)),
    ...hornBands(mouthM, coverageDeg, air),
  }
}

type HornBands = Pick<HornAnswer, 'bandBeamwidthsDeg' | 'besideDb'>

/** The bands of the last horn, so that a drag of the frequency does not compute them again. */
let keptBands: { mouthM: number; coverageDeg: number; air: Air; bands: HornBands } | undefined

/** What an answer says of every third octave, which does not depend on the frequency asked for. */
function hornBands(mouthM: number, coverageDeg: number, air: Air): HornBands {
  if (keptBands?.mouthM === mouthM && keptBands.coverageDeg === coverageDeg && keptBands.air === air)
    return keptBands.bands
  const beside = bandLevelsDb(
    (lineHz) => horizontalPattern(mouthM, coverageDeg, lineHz, air)(Math.PI / 2),
    spectrumBands,
  )
  const bands = {
    bandBeamwidthsDeg: spectrumBands.map(({ centreHz }) =>
      beamwidthDeg(coverageDeg, (mouthM * centreHz) / air.speedOfSoundMps),
    ),
    besideDb: Array.from(beside),
  }
  keptBands = { mouthM, coverageDeg, air, bands }
  return bands
}

/** Frequency at which a mouth of this size is so many wavelengths wide, Hz. */
export const frequencyOfMouthHz = (mouthOverWavelength: number, mouthM: number, air?: AirState): number =>
  (mouthOverWavelength * airOf(air).speedOfSoundMps) / mouthM

const keptCurves = new Map<number, HornCurve>()

/**
 * The beamwidth of a coverage angle against the mouth in wavelengths. It is the same for every size of mouth and every
 * height of it, and in every air, so it is computed once for each angle and kept.
 */
export function hornCurve(coverageDeg: number): HornCurve {
  const known = keptCurves.get(coverageDeg)
  if (known) return known
  const { from, to, perOctave } = mouthOverWavelengths
  const count = Math.ceil(perOctave * Math.log2(to / from)) + 1
  const points = Array.from({ length: count }, (_, index): BeamwidthPoint => {
    const mouthOverWavelength = from * 2 ** (index / perOctave)
    return { mouthOverWavelength, beamwidthDeg: beamwidthDeg(coverageDeg, mouthOverWavelength) }
  })
  const letsGoAt = letsGoMouthOverWavelength(coverageDeg, points)
  const narrowest = points.reduce((a, b) => ((b.beamwidthDeg ?? 180) < (a.beamwidthDeg ?? 180) ? b : a))
  const widest = points
    .filter((point) => point.mouthOverWavelength > letsGoAt)
    .reduce((a, b) => ((b.beamwidthDeg ?? 180) > (a.beamwidthDeg ?? 180) ? b : a))
  const curve: HornCurve = {
    coverageDeg,
    points,
    letsGoAt,
    waist:
      narrowest.beamwidthDeg !== null && narrowest.beamwidthDeg <= 0.9 * coverageDeg
        ? { mouthOverWavelength: narrowest.mouthOverWavelength, beamwidthDeg: narrowest.beamwidthDeg }
        : null,
    reopens: (widest.beamwidthDeg ?? 180) >= 1.1 * widestAllowedDeg(coverageDeg) ? widest : null,
  }
  if (keptCurves.size >= 32) keptCurves.clear()
  keptCurves.set(coverageDeg, curve)
  return curve
}

/** The lowest point that is no wider than allowed, refined by halving against its lower neighbour. */
function letsGoMouthOverWavelength(coverageDeg: number, points: BeamwidthPoint[]): number {
  const limitDeg = widestAllowedDeg(coverageDeg)
  const first = points.findIndex((point) => point.beamwidthDeg !== null && point.beamwidthDeg <= limitDeg)
  const [below, above] = [points[first - 1], points[first]]
  if (!below || !above)
    throw new RangeError(`coverageDeg is ${coverageDeg}; allowed is an angle that some mouth can hold`)
  let [low, high] = [below.mouthOverWavelength, above.mouthOverWavelength]
  for (let round = 0; round < 30; round++) {
    const middle = Math.sqrt(low * high)
    const widthDeg = beamwidthDeg(coverageDeg, middle)
    if (widthDeg !== null && widthDeg <= limitDeg) high = middle
    else low = middle
  }
  return high
}

function beamwidthDeg(coverageDeg: number, mouthOverWavelength: number): number | null {
  const pattern = horizontalPattern(1, coverageDeg, frequencyOfMouthHz(mouthOverWavelength, 1), airOf())
  return inDegrees(beamwidthRad((angleRad) => amplitudeLevelDb(magnitude(pattern(angleRad))), { symmetric: true }))
}

const inDegrees = (angleRad: number | undefined): number | null => (angleRad === undefined ? null : angleRad / degree)

/** The pattern in the horizontal plane. The mouth's height does not show there, so a flat one of the same size stands in. */
function horizontalPattern(
  mouthM: number,
  coverageDeg: number,
  frequencyHz: number,
  air: Air,
): (horizontalRad: number) => Complex {
  const pattern = hornMouthPattern(
    {
      mouthWidthM: mouthM,
      mouthHeightM: flatHeightM,
      horizontalCoverageRad: coverageDeg * degree,
      verticalCoverageRad: 0,
    },
    frequencyHz,
    air,
  )
  return (horizontalRad) => pattern(horizontalRad, 0)
}
/** Any height gives the same horizontal plane; a small one costs least. */
const flatHeightM = 0.01

export type HornResponseQuestion = InAir & {
  mouthM: number
  coverageDeg: number
  sampleRateHz: number
  length: number
}

/**
 * Impulse responses 90° off and straight ahead, for the sound. The front is flat, as makers voice it, so the other one is
 * the pattern itself. Sound from the nearer edge of a wide mouth comes first, so both wait for the way across half of it.
 */
export function hornResponses(question: HornResponseQuestion): Responses {
  const { mouthM, coverageDeg, sampleRateHz, length } = question
  const air = airOf(question.air)
  const delayS = leadInS + mouthM / 2 / air.speedOfSoundMps
  const waiting = (frequencyHz: number) => late(frequencyHz, delayS)
  const beside = (frequencyHz: number) =>
    frequencyHz === 0 ? { re: 1, im: 0 } : horizontalPattern(mouthM, coverageDeg, frequencyHz, air)(Math.PI / 2)
  const spec = { sampleRateHz, length }
  return {
    here: impulseResponse((frequencyHz) => multiply(beside(frequencyHz), waiting(frequencyHz)), spec),
    front: impulseResponse(waiting, spec),
  }
}
