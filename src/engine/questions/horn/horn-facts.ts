import { beamwidthRad, hornControlHz, uniformLineDb } from '../../../acoustics/index.ts'
import { airOf, usualAir } from '../../scene/air.ts'
import { count, decibels, degrees, type Fact, hertz, metres, needed } from '../fact.ts'
import { bassHornHz, frequencyOfMouthHz, hornAnswer, hornCurve } from './horn.ts'

/** The demo top's horn: what its label would say, and its mouth (content/gear/top-over-sub.json). */
export const demoHorn = { widthM: 0.26, heightM: 0.17, horizontalDeg: 90, verticalDeg: 60 } as const

/** The small and the large horn that the words compare. */
const comparedHorns = { smallM: 0.2, largeM: 0.9, coverageDeg: 90 } as const

const air = airOf(usualAir)
const degree = Math.PI / 180

/** Length of a uniform line over the wavelength whose −6 dB beamwidth is this angle: found by halving on the beamwidth. */
function lineOverWavelength(angleDeg: number): number {
  let [low, high] = [0.6, 200]
  for (let round = 0; round < 60; round++) {
    const middle = (low + high) / 2
    const width = beamwidthRad(
      (angleRad) =>
        uniformLineDb(middle, air.speedOfSoundMps, Math.max(-Math.PI / 2, Math.min(Math.PI / 2, angleRad)), air),
      { symmetric: true },
    )
    if (width === undefined || width > angleDeg * degree) low = middle
    else high = middle
  }
  return high
}

/** Depth of straight walls that meet in a point, from there to the mouth, m. */
const depthM = (mouthM: number, coverageDeg: number) => mouthM / 2 / Math.tan((coverageDeg * degree) / 2)

/** Where the horn of the demo top takes over from its woofer, Hz (content/gear/top-over-sub.json). */
const crossoverHz = 1800

/** The words look no higher than this, Hz: what many ears still hear. */
const highestHz = 16_000

/**
 * What one plane of a horn does with its label from the crossover up: how wide its beam is there, and the band, from where it is no
 * longer wider than allowed to where it first gets narrower than the label by more than a fifth; how narrow it gets, from where on
 * it is never again that narrow, and how wide it opens above that.
 */
function band(mouthM: number, coverageDeg: number) {
  const { points } = hornCurve(coverageDeg)
  const at = points.flatMap(({ mouthOverWavelength, beamwidthDeg }) => {
    const frequencyHz = frequencyOfMouthHz(mouthOverWavelength, mouthM)
    return beamwidthDeg === null || frequencyHz > highestHz ? [] : [{ frequencyHz, beamwidthDeg }]
  })
  const limitDeg = 0.8 * coverageDeg
  const narrow = at.filter(({ beamwidthDeg }) => beamwidthDeg < limitDeg)
  const [first, last] = [needed(narrow[0], 'a waist'), needed(narrow.at(-1), 'a waist')]
  /** Where a straight line from a point to one of its neighbours is as wide as the limit. */
  const crossingHz = (point: (typeof at)[number], step: 1 | -1) => {
    const next = needed(at[at.indexOf(point) + step], 'an end of the waist')
    const part = (limitDeg - point.beamwidthDeg) / (next.beamwidthDeg - point.beamwidthDeg)
    return point.frequencyHz * (next.frequencyHz / point.frequencyHz) ** part
  }
  const narrowest = narrow.reduce((a, b) => (b.beamwidthDeg < a.beamwidthDeg ? b : a))
  const widest = at
    .filter(({ frequencyHz }) => frequencyHz > last.frequencyHz)
    .reduce((a, b) => (b.beamwidthDeg > a.beamwidthDeg ? b : a))
  const crossover = hornAnswer({ mouthM, coverageDeg, frequencyHz: crossoverHz, air: usualAir }).beamwidthDeg
  return {
    crossoverDeg: needed(crossover, 'a beam at the crossover'),
    narrowFromHz: crossingHz(first, -1),
    narrowToHz: crossingHz(last, 1),
    narrowest,
    widest,
  }
}

/** Every number of the lesson, from the functions that its figure uses: mouth in a baffle. */
export function hornFacts() {
  const { widthM, heightM, horizontalDeg, verticalDeg } = demoHorn
  const sideways = hornAnswer({ mouthM: widthM, coverageDeg: horizontalDeg, frequencyHz: 500, air: usualAir })
  const upright = hornAnswer({ mouthM: heightM, coverageDeg: verticalDeg, frequencyHz: 500, air: usualAir })
  const { waist } = sideways.curve
  if (!waist) throw new Error('the demo horn has no waist; the lesson speaks of one')
  const beside = (mouthM: number, frequencyHz: number) =>
    -(hornAnswer({ mouthM, coverageDeg: comparedHorns.coverageDeg, frequencyHz, air: usualAir }).patternDb.at(-1) ?? 0)
  const [across, up] = [band(widthM, horizontalDeg), band(heightM, verticalDeg)]
  const constantOf = (angleDeg: number) => lineOverWavelength(angleDeg) * angleDeg * air.speedOfSoundMps
  const ruleOverComputed = (coverageDeg: number) =>
    hornControlHz(1, coverageDeg * degree, air) / frequencyOfMouthHz(hornCurve(coverageDeg).letsGoAt, 1)
  return {
    'mouth-width': metres(widthM),
    'mouth-height': metres(heightM),
    'lets-go': hertz(sideways.letsGoHz),
    rule: hertz(sideways.ruleHz),
    'rule-over-computed-40': count(ruleOverComputed(40)),
    'rule-over-computed-120': count(ruleOverComputed(120)),
    'lets-go-upright': hertz(upright.letsGoHz),
    'rule-upright': hertz(upright.ruleHz),
    'waist-angle': degrees(waist.beamwidthDeg),
    'waist-frequency': hertz(frequencyOfMouthHz(waist.mouthOverWavelength, widthM)),
    crossover: hertz(crossoverHz),
    'crossover-angle': degrees(across.crossoverDeg),
    'narrow-to': hertz(across.narrowToHz),
    'widest-angle': degrees(across.widest.beamwidthDeg),
    'widest-frequency': hertz(across.widest.frequencyHz),
    'crossover-angle-upright': degrees(up.crossoverDeg),
    'narrow-from-upright': hertz(up.narrowFromHz),
    'narrow-to-upright': hertz(up.narrowToHz),
    'waist-angle-upright': degrees(up.narrowest.beamwidthDeg),
    'waist-frequency-upright': hertz(up.narrowest.frequencyHz),
    'bass-mouth': metres(sideways.bassMouthM),
    'bass-mouth-by-rule': metres(sideways.bassMouthByRuleM),
    'bass-mouth-narrow': metres((hornCurve(40).letsGoAt * air.speedOfSoundMps) / bassHornHz),
    'bass-depth': metres(depthM(sideways.bassMouthM, horizontalDeg)),
    'bass-depth-narrow': metres(depthM((hornCurve(40).letsGoAt * air.speedOfSoundMps) / bassHornHz, 40)),
    'wavelength-bass': metres(air.speedOfSoundMps / bassHornHz),
    'wavelength-1k': metres(air.speedOfSoundMps / 1000),
    'line-constant-narrow': constant(constantOf(1)),
    'line-constant-60': constant(constantOf(60)),
    'line-constant-90': constant(constantOf(90)),
    'small-mouth': metres(comparedHorns.smallM),
    'large-mouth': metres(comparedHorns.largeM),
    'small-beside-500': decibels(beside(comparedHorns.smallM, 500)),
    'large-beside-500': decibels(beside(comparedHorns.largeM, 500)),
    'small-beside-2k': decibels(beside(comparedHorns.smallM, 2000)),
    'large-beside-2k': decibels(beside(comparedHorns.largeM, 2000)),
    'small-beside-100': decibels(beside(comparedHorns.smallM, 100)),
    'large-beside-100': decibels(beside(comparedHorns.largeM, 100)),
  } satisfies Record<string, Fact>
}

/** Hertz times metres times degrees: what a mouth has at every size. */
const constant = (value: number) => ({ value, unit: 'm ° Hz' })
