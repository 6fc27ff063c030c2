import { absorptionDbPerM } from '../medium/absorption.ts'
import { type Air, requireAir } from '../medium/air.ts'
import { requireInRange } from '../numeric-range.ts'
import type { Point } from '../point.ts'
import { checkHallSize, type HallSize } from './shoebox-modes.ts'

/** Absorption coefficient of a surface by frequency, 0 rigid … 1 open. */
export type Absorption = (frequencyHz: number) => number

/**
 * The six surfaces of a box-shaped hall, in its coordinates: x right, −W/2 … W/2; y up from the floor, 0 … H; z forward
 * from the wall behind the loudspeakers, 0 … L.
 */
export const hallSurfaces = ['wallLeft', 'wallRight', 'floor', 'ceiling', 'wallBehind', 'wallOpposite'] as const
export type HallSurface = (typeof hallSurfaces)[number]

/**
 * A box-shaped hall. `absorption` is the mean coefficient over all its surfaces, whatever stands in it included. `surfaces`,
 * if given, has the coefficient of each; furnishedHall sees to it that the two agree.
 */
export type Hall = HallSize & { absorption: Absorption; surfaces?: Record<HallSurface, Absorption> }

/** Volume, m³, and area of all surfaces, m². */
export const hallVolumeM3 = ({ lengthM, widthM, heightM }: HallSize): number => lengthM * widthM * heightM
export const hallSurfaceM2 = ({ lengthM, widthM, heightM }: HallSize): number =>
  2 * (lengthM * widthM + lengthM * heightM + widthM * heightM)

/** Area of one surface, m². */
export function surfaceAreaM2({ lengthM, widthM, heightM }: HallSize, surface: HallSurface): number {
  if (surface === 'floor' || surface === 'ceiling') return lengthM * widthM
  return surface === 'wallLeft' || surface === 'wallRight' ? lengthM * heightM : widthM * heightM
}

/** Slack within which a place counts as inside the hall, m. */
const slackM = 1e-6

/** @throws RangeError, in the hall's coordinates, for a place outside it */
export function requireInHall(name: string, { xM, yM, zM }: Point, hall: HallSize): void {
  const half = hall.widthM / 2 + slackM
  requireInRange(`${name}.xM`, xM, { min: -half, max: half, unit: 'm, within the hall' })
  requireInRange(`${name}.yM`, yM, { min: -slackM, max: hall.heightM + slackM, unit: 'm, within the hall' })
  requireInRange(`${name}.zM`, zM, { min: -slackM, max: hall.lengthM + slackM, unit: 'm, within the hall' })
}

/**
 * A hall from its finishes and what stands in it. The absorption area of people and things is spread evenly over the floor,
 * so that images and statistics see the same hall.
 *
 * @param size       0.1 … 1000 m a side
 * @param surfaces   absorption coefficient of each surface
 * @param objectsM2  absorption area of people and things by frequency, m², 0 or more; default none
 * @returns          the hall; its coefficients throw RangeError outside 0 … 1, also where people and things absorb more than
 *                   the whole floor could
 * @throws RangeError for a size out of range
 * Source: A = Σ S_i α_i + Σ A_object, Kuttruff, Room Acoustics, section 5.4; EN 12354-6, Equation (1).
 */
export function furnishedHall(
  size: HallSize,
  surfaces: Record<HallSurface, Absorption>,
  objectsM2: (frequencyHz: number) => number = () => 0,
): Hall {
  const { lengthM, widthM, heightM } = checkHallSize(size)
  const floorM2 = surfaceAreaM2(size, 'floor')
  const checked = (surface: HallSurface): Absorption => {
    return (frequencyHz) => {
      const bare = surfaces[surface](frequencyHz)
      requireInRange(`absorption of ${surface} at ${frequencyHz} Hz`, bare, { min: 0, max: 1 })
      if (surface !== 'floor') return bare
      const added = requireInRange(`objectsM2 at ${frequencyHz} Hz`, objectsM2(frequencyHz), { min: 0, unit: 'm²' })
      const spread = bare + added / floorM2
      return requireInRange(`absorption of floor, people and things at ${frequencyHz} Hz`, spread, { min: 0, max: 1 })
    }
  }
  const all = Object.fromEntries(hallSurfaces.map((surface) => [surface, checked(surface)])) as Record<
    HallSurface,
    Absorption
  >
  return {
    lengthM,
    widthM,
    heightM,
    surfaces: all,
    absorption: (frequencyHz) =>
      hallSurfaces.reduce((sum, surface) => sum + surfaceAreaM2(size, surface) * all[surface](frequencyHz), 0) /
      hallSurfaceM2(size),
  }
}

/**
 * A coefficient or area between the frequencies of a table: straight lines over lg f, level beyond the ends. Handbooks begin at 125 Hz;
 * what is below is therefore held, which is an estimate.
 *
 * @param frequenciesHz  rising, at least one, above 0
 * @param values         as many, finite
 * @throws RangeError for lengths or values out of range
 */
export function octaveTable(frequenciesHz: readonly number[], values: readonly number[]): Absorption {
  requireInRange('values.length', values.length, { min: Math.max(1, frequenciesHz.length), max: frequenciesHz.length })
  frequenciesHz.forEach((frequencyHz, i) => {
    requireInRange(`frequenciesHz[${i}]`, frequencyHz, { above: frequenciesHz[i - 1] ?? 0, unit: 'Hz' })
    requireInRange(`values[${i}]`, values[i] as number)
  })
  return (frequencyHz) => {
    requireInRange('frequencyHz', frequencyHz, { above: 0, unit: 'Hz' })
    const above = frequenciesHz.findIndex((known) => known >= frequencyHz)
    if (above === 0) return values[0] as number
    if (above < 0) return values.at(-1) as number
    const [low, high] = [frequenciesHz[above - 1] as number, frequenciesHz[above] as number]
    const share = Math.log(frequencyHz / low) / Math.log(high / low)
    return (values[above - 1] as number) * (1 - share) + (values[above] as number) * share
  }
}

/** What the statistics of a hall are made of at one frequency. */
export type HallAbsorption = {
  volumeM3: number
  surfaceM2: number
  /** Mean absorption coefficient ᾱ. */
  absorption: number
  /** Absorption by the air in the volume, 4mV, m². */
  airM2: number
}

/**
 * Checks a hall and gives its absorption at a frequency.
 *
 * @throws RangeError for a size, frequency, absorption or Air out of range
 * Source: air absorption 4mV with m the energy attenuation per metre, Kuttruff, Room Acoustics, section 5.1; m from ISO 9613-1.
 */
export function hallAbsorption(hall: Hall, frequencyHz: number, air: Air): HallAbsorption {
  checkHallSize(hall, 'hall')
  requireAir(air)
  // Air takes frequencies above 0 to 1 MHz and says so itself.
  const energyPerM = absorptionDbPerM(frequencyHz, air) / (10 * Math.LOG10E)
  const volumeM3 = hallVolumeM3(hall)
  return {
    volumeM3,
    surfaceM2: hallSurfaceM2(hall),
    absorption: requireInRange(`hall.absorption at ${frequencyHz} Hz`, hall.absorption(frequencyHz), {
      min: 0,
      max: 1,
    }),
    airM2: 4 * energyPerM * volumeM3,
  }
}
