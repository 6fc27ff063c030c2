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
const earlyImages = 60

/** The early radius is at least this many wavelengths: resonances are plane waves only beyond a few. */
const earlyWavelengths = 2.5

/** Share of the early radius at which the hand-over begins. */
const handOverFrom = 0.1

/** Highest frequency, Hz: beyond, images and resonances are too many and the statistics serve. */
export const hallFieldCeilingHz = 500

/**
 * The sound in a box-shaped hall with locally reacting walls at one frequency. The direct sound and the images of the sources up to a radius r₂ (about
 * 60, or two and a half wavelengths) are summed one by one,
 *
 *   p(x) = Σ_images R₁^a … R₆^f p_source(mirrored listener) e^{−mr/2},   R = (cos ϑ − β)/(cos ϑ + β)
 *
 * with the direction of each mirrored source and the angle ϑ at which each meets each wall; β is the admittance of a wall that takes α of the
 * sound from all sides (see wallReflection). The later sound fades in from r₂/10 on under a smooth window v(r) and is the sum of the hall's
 * resonances, each the product of three standing waves between such walls (see axisModes),
 *
 *   Σ_late = Σ_K (1/∏ norm) ∏ψ(x) Σ_ways D(way) ∏ψ_way(s) (2π/jK) ∫ v(r) e^{−j(k−K)r − mr/2} dr,   K = √(Σq²)
 *
 * D is the source's far pattern in each of the eight ways in which a wave can leave it for that resonance.
 *
 * Left out: what the stage, people and cabinets throw back, and a wall's own resonances, whose phase handbooks do not tell.
 *
 * @param sources      in the hall's coordinates (see hallSurfaces), inside the hall
 * @param hall         `surfaces` if it has them, else `absorption` everywhere
 * @param frequencyHz  10 … 500 Hz
 * @param air          speed of sound; absorption
 * @param dampingPerM  further loss of amplitude along every path, 0 … 0.1 1/m, default 0; see hallFieldResponse
 * @returns  pressure by listener, Pa, peak; it throws RangeError for a place outside the hall
 * @throws RangeError  for arguments out of range
 * Source: Allen & Berkley, J. Acoust. Soc. Am. 65 (1979) (images in a box); Kuttruff, Room Acoustics, sections 2.5, 3.3 and 4.1; DLMF 1.8.14
 *         (Poisson's formula, by which images turn into resonances).
 * Accuracy: against the exact sum of resonances of a point source, r.m.s. over places, 10 % while no surface takes more than half, and from 160 Hz up 5 %;
 *           15 to 30 % of the little that is left where walls take 60 to 95 %, because an image meets its walls as a plane wave does (evidence page).
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
