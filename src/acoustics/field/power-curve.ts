import type { Air } from '../medium/air.ts'
import { requireInRange } from '../numeric-range.ts'
import type { PlacedSource } from './placed-source.ts'
import { radiatedPowerW } from './radiated-power.ts'

/** Frequencies at which the power is worked out, to the octave; between them it is interpolated. */
const stepsPerOctave = 6

/**
 * Power that sources radiate together by frequency, W: radiatedPowerW at six frequencies an octave, between them a straight line
 * in lg W over lg f. Worked out when first asked for and kept: it depends on no hall, so that one curve serves them all.
 *
 * @param sources  any number
 * @param air      the medium
 * @returns        power by frequency, 10 … 100 000 Hz; it throws RangeError outside
 */
export function powerCurve(sources: PlacedSource[], air: Air): (frequencyHz: number) => number {
  const powers = new Map<number, number>()
  const known = (step: number): number => {
    let power = powers.get(step)
    if (power === undefined) {
      power = radiatedPowerW(sources, 1000 * 2 ** (step / stepsPerOctave), air)
      powers.set(step, power)
    }
    return power
  }
  return (frequencyHz) => {
    requireInRange('frequencyHz', frequencyHz, { min: 10, max: 1e5, unit: 'Hz' })
    const step = Math.log2(frequencyHz / 1000) * stepsPerOctave
    const below = Math.floor(step)
    const share = step - below
    const [low, high] = [known(below), share === 0 ? known(below) : known(below + 1)]
    return low > 0 && high > 0 ? low ** (1 - share) * high ** share : low * (1 - share) + high * share
  }
}
