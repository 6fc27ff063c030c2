import {
  amplitudeRatio,
  fromPolar,
  impulseResponse,
  multiply,
  type Point,
  transferKnotsHz,
} from '../../acoustics/index.ts'
import { arrivalsAt, sumOf } from './arrivals.ts'
import { passbandDb } from './free-field.ts'
import { late, type Responses } from './responses.ts'
import { inFreeAir, levelsAt, type StandingRig } from './standing-rig.ts'

/** Samples a second, and how many. */
export type ResponseSpec = { sampleRateHz: number; length: number }

/**
 * The impulse responses of two places that the sound is rendered with, from the same transfer functions as the levels; 0 dB is the
 * passband in front in free air. The travel time is taken out, but for the lead-in, and the transfer function is interpolated between
 * knots: computed at every line of the transform it would take four times as long.
 *
 * @param standing  not in a hall, whose responses are made otherwise (hallResponses)
 * @throws RangeError for a place where nobody can be
 */
export function placeResponses(
  standing: StandingRig,
  { here, front }: { here: Point; front: Point },
  { sampleRateHz, length }: ResponseSpec,
): Responses {
  const gain = amplitudeRatio(-passbandDb(levelsAt(inFreeAir(standing), front)))
  const knotsHz = transferKnotsHz({ fineStepHz: sampleRateHz / length, widestStepHz: 24, toHz: sampleRateHz / 2 })
  const response = (place: Point) => {
    // From the middle of the front on the plan, as distances are told.
    const transfer = sumOf(arrivalsAt(standing, place, { xM: 0, yM: place.yM, zM: 0 }, knotsHz))
    return impulseResponse((frequencyHz) => multiply(transfer(frequencyHz), led(frequencyHz, gain)), {
      sampleRateHz,
      length,
    })
  }
  return { here: response(here), front: response(front) }
}

const led = (frequencyHz: number, gain: number) => multiply(late(frequencyHz), fromPolar(gain, 0))
