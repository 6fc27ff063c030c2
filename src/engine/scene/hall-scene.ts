import {
  furnishedHall,
  type Hall,
  type HallSize,
  type HallSurface,
  hallSurfaces,
  octaveTable,
  type PlanPoint,
} from '../../acoustics/index.ts'

/** A furnished hall as plain data: absorption by octave for each surface, and the absorption area of people and things. */
export type HallDesign = HallSize & {
  frequenciesHz: number[]
  surfaces: Record<HallSurface, number[]>
  objectsM2: number[]
  /** Where a rig stands in it, in the hall's coordinates; as in the demo hall unless given. */
  rigAt?: PlanPoint
}

/** The hall of a design. Throws RangeError for a size, a table or a coefficient out of range, at the latest when it is asked. */
export function hallOf({ lengthM, widthM, heightM, frequenciesHz, surfaces, objectsM2 }: HallDesign): Hall {
  const tables = Object.fromEntries(
    hallSurfaces.map((surface) => [surface, octaveTable(frequenciesHz, surfaces[surface])]),
  ) as Record<HallSurface, (frequencyHz: number) => number>
  return furnishedHall({ lengthM, widthM, heightM }, tables, octaveTable(frequenciesHz, objectsM2))
}

/**
 * The same hall under another assumption about what handbooks leave out: from the lowest octave of the table down, everything in it takes `perOctave` times as
 * much in each octave as in the one above, and no more than `mostTaken`. hallOf holds the last value instead, which is a factor of 1.
 *
 * @param perOctave  above 0
 */
export function takingBelow(design: HallDesign, perOctave: number): HallDesign {
  const lowest = design.frequenciesHz[0] as number
  const octaves = Array.from({ length: octavesBelow }, (_, i) => octavesBelow - i)
  const extended = (values: number[], most: number) => [
    ...octaves.map((octave) => Math.min(most, (values[0] as number) * perOctave ** octave)),
    ...values,
  ]
  return {
    ...design,
    frequenciesHz: [...octaves.map((octave) => lowest / 2 ** octave), ...design.frequenciesHz],
    surfaces: Object.fromEntries(
      hallSurfaces.map((surface) => [surface, extended(design.surfaces[surface], mostTaken)]),
    ) as HallDesign['surfaces'],
    // What people and things take is spread over the floor, which cannot take more than all.
    objectsM2: extended(design.objectsM2, design.objectsM2[0] as number),
  }
}

/** From 125 Hz down to below all that is heard. */
const octavesBelow = 3
const mostTaken = 0.9
