import type { HallDesign } from './hall-scene.ts'

// The terms that the hall's figure shares with its calculation, without fetching the calculation itself.

/** One state of a hall: what hangs on its walls, who sits in it. */
export type HallState = { key: string; short: string; description: string; design: HallDesign }

/** What a hall of the reader's own may be: sides, m, and mean absorption coefficient of everything in it. */
export const ownHallRange = {
  lengthM: { min: 8, max: 60 },
  widthM: { min: 7, max: 40 },
  heightM: { min: 2.6, max: 15 },
  absorption: { min: 0.03, max: 0.8 },
} as const

/** A hall with the same absorption everywhere and at all frequencies. */
export function evenHall(size: { lengthM: number; widthM: number; heightM: number }, absorption: number): HallDesign {
  const each = [absorption]
  return {
    lengthM: size.lengthM,
    widthM: size.widthM,
    heightM: size.heightM,
    frequenciesHz: [1000],
    surfaces: { wallLeft: each, wallRight: each, floor: each, ceiling: each, wallBehind: each, wallOpposite: each },
    objectsM2: [0],
  }
}

/** Where the rig may stand while a resonance is looked at: the names of the places. */
export const sourcePlaces = ['usual', 'corner', 'middle'] as const
export type SourcePlace = (typeof sourcePlaces)[number]

/** Frequencies of the map of resonances, Hz. From the lowest that a sub plays at all. */
export const mapHz = { min: 30, max: 120, step: 0.5 } as const

/** How near a listener may come to a wall and to a box, m. */
export const clearOfM = 0.2
