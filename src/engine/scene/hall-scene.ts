import {
  furnishedHall,
  type Hall,
  type HallSize,
  type HallSurface,
  hallSurfaces,
  octaveTable,
} from '../../acoustics/index.ts'

/** A furnished hall as plain data: absorption by octave for each surface, and the absorption area of people and things. */
export type HallDesign = HallSize & {
  frequenciesHz: number[]
  surfaces: Record<HallSurface, number[]>
  objectsM2: number[]
}

/** The hall of a design. Throws RangeError for a size, a table or a coefficient out of range, at the latest when it is asked. */
export function hallOf({ lengthM, widthM, heightM, frequenciesHz, surfaces, objectsM2 }: HallDesign): Hall {
  const tables = Object.fromEntries(
    hallSurfaces.map((surface) => [surface, octaveTable(frequenciesHz, surfaces[surface])]),
  ) as Record<HallSurface, (frequencyHz: number) => number>
  return furnishedHall({ lengthM, widthM, heightM }, tables, octaveTable(frequenciesHz, objectsM2))
}
