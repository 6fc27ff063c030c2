import type { Complex } from '../complex.ts'
import { absorptionDbPerM } from '../medium/absorption.ts'
import { type Air, requireAir } from '../medium/air.ts'
import { requireInRange } from '../numeric-range.ts'
import type { Point } from '../point.ts'
import { addEarlyImages } from './early-images.ts'
import { type Hall, hallVolumeM3, requireInHall } from './hall.ts'
import { axesOf } from './hall-axes.ts'
import type { HandOver } from './hand-over.ts'
import { lateResonances } from './late-resonances.ts'
import { fitOutgoing } from './outgoing-fit.ts'
import { checkPlacedSource, type PlacedSource, requirePoint } from './placed-source.ts'
import { driveOf } from './pressure-from.ts'
import { checkHallSize } from './shoebox-modes.ts'

/** How many images are summed one by one before the resonances take over. */
const earlyImages = 150

/** The early radius is at least this many wavelengths: resonances are plane waves only beyond a few. */
const earlyWavelengths = 4

/** Share of the early radius at which the hand-over begins. */
const handOverFrom = 0.1

/** Highest frequency, Hz: beyond, images and resonances are too many and the statistics serve. */
export const hallFieldCeilingHz = 500

/**
 * The sound in a box-shaped hall at one frequency: the sum over all images of the sources in its six surfaces,
 *
 *   p(x) = Σ_images R₁^a … R₆^f p_source(mirrored listener) e^{−mr/2},   R = √(1 − α)
 *
 * with the direction of each mirrored source. The direct sound and the images up to a radius r₂ (about 150, or four wavelengths) are summed one by one.
 * The later ones fade in from r₂/10 on under a smooth window v(r) and are summed by Poisson's formula, all of them to infinity:
 * they are resonances K, each with the shape that plane waves between such walls have,
 *
 *   Σ_late = (1/8V) Σ_K D(K̂) (2π/jK) ∫ v(r) e^{−j(k−K)r} ∏_axes w(r) dr · ∏_axes u(x)
 *
 * D is the source's far pattern; w = e^{−κ|K̂_i|r}, κ = −ln(R R′)/2L, is the loss at an axis' two walls, and for an order of 0, where
 * the wave grazes them, w = erfcx(κ √(r/2jK)).
 *
 * Left out: what the stage, people and cabinets throw back, the phase of a wall's reflection, and its angle.
 *
 * @param sources      in the hall's coordinates (see hallSurfaces), inside the hall
 * @param hall         `surfaces` if it has them, else `absorption` everywhere
 * @param frequencyHz  10 … 500 Hz
 * @param air          speed of sound; absorption
 * @param dampingPerM  further loss of amplitude along every path, 0 … 0.1 1/m, default 0; see hallFieldResponse
 * @returns  pressure by listener, Pa, peak; it throws RangeError for a place outside the hall
 * @throws RangeError  for arguments out of range
 * Source: Allen & Berkley, J. Acoust. Soc. Am. 65 (1979) (images in a box); Kuttruff, Room Acoustics, sections 3.2 and 4.1;
 *         DLMF 1.8.14 (Poisson's formula).
 * Accuracy: 4 % r.m.s. of the plain sum of all images (evidence page) while no surface absorbs more than 0.9; up to 15 %, about
 *           1 dB, with one that is open.
 */
export function hallField(
  sources: PlacedSource[],
  hall: Hall,
  frequencyHz: number,
  air: Air,
  dampingPerM = 0,
): (listener: Point) => Complex {
  requireInRange('frequencyHz', frequencyHz, { min: 10, max: hallFieldCeilingHz, unit: 'Hz' })
  requireInRange('dampingPerM', dampingPerM, { min: 0, max: 0.1, unit: '1/m' })
  checkHallSize(hall, 'hall')
  requireAir(air)
  const axes = axesOf(hall, frequencyHz)
  sources.forEach((source, index) => {
    checkPlacedSource(source, `sources[${index}]`)
    requireInHall(`sources[${index}].position`, source.position, hall)
  })
  const parts = sources
    .map((source) => ({
      source,
      radiation: source.radiation(frequencyHz),
      drive: driveOf(source, frequencyHz),
      fit: fitOutgoing(source, frequencyHz, air),
    }))
    .filter(({ fit }) => fit.re.some((value, t) => value !== 0 || fit.im[t] !== 0))
  const airLossPerM = (absorptionDbPerM(frequencyHz, air) / 20) * Math.LN10 + dampingPerM
  const wavelengthM = air.speedOfSoundMps / frequencyHz
  const holdingImagesM = Math.cbrt((3 * earlyImages * hallVolumeM3(hall)) / (4 * Math.PI))
  const toM = Math.max(earlyWavelengths * wavelengthM, holdingImagesM)
  const span: HandOver = { fromM: handOverFrom * toM, toM }
  const late = lateResonances(parts, axes, (2 * Math.PI * frequencyHz) / air.speedOfSoundMps, airLossPerM, span)
  return (listener) => {
    requirePoint('listener', listener)
    requireInHall('listener', listener, hall)
    const sum = late(listener)
    for (const part of parts) addEarlyImages(part, axes, listener, airLossPerM, span, sum)
    return sum
  }
}
