import { type Band, type RigCabinet, wrapDropDb, wrapFrequencyHz, wrapRulesHz } from '../../../acoustics/index.ts'
import { type AirState, airOf, type InAir } from '../../scene/air.ts'
import { bandsBetween } from '../../scene/third-octaves.ts'

// What is asked of the reader's own box, what is answered, and what the answer says; apart from what computes it, which pages do without.

/** A box alone: outer size and what plays in it. */
export type OwnBox = Pick<RigCabinet, 'widthM' | 'heightM' | 'depthM' | 'ways'>

/** How a band was computed: at once by the closed form, or solved for the real box. */
export type BoxModel = 'closed-form' | 'boundary-elements' | 'high-frequency'

/** One third octave of a box, at the middle of the band, from far away. */
export type OwnBoxBand = {
  nominalHz: number
  model: BoxModel
  /** What the box adds straight in front before a maker sets it flat, dB re the same drivers and port, each alone, with no box (point sources). */
  frontGainDb: number
  /** Level beside, the mean of left and right, dB re the front. */
  sideDb: number
  /** Level straight behind, dB re the front. */
  rearDb: number
  /** Level round the box at the height of its middle, dB re the front, at each of boxAnglesDeg. */
  roundDb: number[]
  directivityIndexDb: number
  /** How far off the solved levels may be by the solver's own estimate, dB; null for the closed form. */
  estimatedErrorDb: number | null
  /** Points on the surface of the box, 0 for the closed form. */
  unknowns: number
}

/** The bands of the reader's own box, 31.5 Hz to 2 kHz. */
export const ownBoxBands: Band[] = bandsBetween(31.5, 2000)

/** Up to here bands are solved from the lowest up: they are quick, and most boxes stop wrapping among them. */
const risingToHz = 500

/**
 * The order in which bands are best asked for: the quick ones rising, then the slow ones from the top down, so that the
 * slowest does not come last and alone while the other worker has nothing to do.
 */
export const solvingOrderHz: number[] = [
  ...ownBoxBands.filter(({ nominalHz }) => nominalHz <= risingToHz),
  ...ownBoxBands.filter(({ nominalHz }) => nominalHz > risingToHz).reverse(),
].map(({ nominalHz }) => nominalHz)

const angleStepDeg = 5
/** Directions of roundDb, degrees from straight in front, positive to the box's right: −180 … 180 in steps of 5. */
export const boxAnglesDeg: number[] = Array.from({ length: 360 / angleStepDeg + 1 }, (_, i) => -180 + i * angleStepDeg)

export type OwnBoxQuestion = InAir & { box: OwnBox; nominalHz: number; solved: boolean }

/** Where the box stops wrapping, beside the two rules of thumb, Hz. */
export type WrapAnswer = {
  computedHz: number | 'below' | 'above'
  /** Whether every band that decides computedHz is solved. Else a hard ball has a say in it, and solving more moves it. */
  settled: boolean
  wavelengthIsWidthHz: number
  kaIsOneHz: number
}

/** Where the rear falls 6 dB under the front, between the bands' middles, and what the rules say for the width; `air` is that of the bands. */
export function wrapAnswer(bands: OwnBoxBand[], widthM: number, air?: AirState): WrapAnswer {
  const centresHz = bands.map(
    ({ nominalHz }) => ownBoxBands.find((band) => band.nominalHz === nominalHz)?.centreHz ?? 0,
  )
  const firstUnder = bands.findIndex(({ rearDb }) => rearDb <= -wrapDropDb)
  const deciding = firstUnder < 0 ? bands : bands.slice(0, firstUnder + 1)
  return {
    computedHz: wrapFrequencyHz(
      centresHz,
      bands.map(({ rearDb }) => rearDb),
    ),
    settled: deciding.every(({ model }) => model !== 'closed-form'),
    ...wrapRulesHz(widthM, airOf(air)),
  }
}
