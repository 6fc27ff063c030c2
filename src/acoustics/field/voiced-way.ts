import { type Complex, divide, fromPolar, magnitude, multiply } from '../complex.ts'
import type { Air } from '../medium/air.ts'
import type { Point } from '../point.ts'
import type { Cabinet, CabinetModel } from '../radiation/cabinet.ts'
import { crossoverResponse } from '../radiation/crossover.ts'
import { onAxisFarField } from '../radiation/far-field.ts'
import type { Radiation } from '../radiation/radiation.ts'
import { withRearPort } from '../radiation/rear-port-radiation.ts'
import { type RigCabinet, toCabinetPoint, type Way } from './rig.ts'

/** Ways quieter than this (−72 dB re their passband, three octaves beyond a 24 dB slope) are left out; the sum of the others hides them. */
const silentWay = 2.5e-4

/**
 * What a way of a cabinet radiates at a frequency, with its port if it has one, and the drive that its crossover and its voicing (see rigField) give it.
 *
 * @param box  the cabinet's box with the drivers of the way
 * @returns    undefined for a way that is silent there
 * @throws RangeError for a way that plays but is not to be heard where it is voiced
 */
export function voicedWay(
  { cabinet, way, box }: { cabinet: RigCabinet; way: Way; box: Cabinet },
  frequencyHz: number,
  air: Air,
  model: CabinetModel,
  voicedAt: Point | undefined,
): { radiation: Radiation; drive: Complex } | undefined {
  const response = wayResponse(way, frequencyHz)
  if (magnitude(response) < silentWay) return undefined
  const radiation = way.port ? withRearPort(model, box, way.port, frequencyHz, air) : model(box, frequencyHz, air)
  const voicing = voicedAt ? atVoicingPlace(cabinet, radiation, voicedAt, air) : onAxisFarField(radiation, air)
  if (magnitude(voicing) === 0) {
    throw new RangeError(
      `way '${way.name}' of cabinet '${cabinet.name}' is silent where it is voiced; allowed is any sound`,
    )
  }
  return { radiation, drive: divide(response, voicing) }
}

/** What a way sends to the voicing place, times D e^{jkD}, D being the place's distance on the plan from the middle of the rig's front. */
function atVoicingPlace(cabinet: RigCabinet, radiation: Radiation, place: Point, air: Air): Complex {
  const distanceM = Math.hypot(place.xM, place.zM)
  const phaseRad = (2 * Math.PI * radiation.frequencyHz * distanceM) / air.speedOfSoundMps
  return multiply(radiation.pressureAt(toCabinetPoint(cabinet, place)), fromPolar(distanceM, phaseRad))
}

/** Complex response of a way's crossover, high-pass times low-pass; 1 without either. */
export function wayResponse(way: Way, frequencyHz: number): Complex {
  let response: Complex = { re: 1, im: 0 }
  if (way.highPass) response = multiply(response, crossoverResponse(way.highPass, 'high-pass', frequencyHz))
  if (way.lowPass) response = multiply(response, crossoverResponse(way.lowPass, 'low-pass', frequencyHz))
  return response
}
