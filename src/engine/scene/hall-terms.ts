import type { HallSurface } from '../../acoustics/field/hall.ts'
import type { HallDesign } from './hall-scene.ts'

// The terms that the hall's figure shares with its calculation, without fetching the calculation itself.

/** One state of a hall: what hangs on its walls, who sits in it. */
export type HallState = { key: string; short: string; description: string; design: HallDesign }

/** The hall states of the page, in the order in which they are offered. */
export const hallStateKeys = ['timber', 'packed', 'curtains', 'brick'] as const
export type HallStateKey = (typeof hallStateKeys)[number]

/** What the states are made of, by the names of content/halls/finishes.json, which says where the numbers come from. */
type Furnishing = {
  surfaces: Partial<Record<HallSurface, string>>
  people: boolean
  short: string
  description: string
}
const furnishings: Record<HallStateKey, Furnishing> = {
  timber: {
    surfaces: {},
    people: false,
    short: 'timber, empty',
    description: 'as it is: timber walls and ceiling, wooden floor, nobody in it',
  },
  packed: {
    surfaces: {},
    people: true,
    short: 'timber, packed',
    description: 'as it is, with 150 people on wooden chairs',
  },
  curtains: {
    surfaces: { wallLeft: 'cotton-curtains', wallRight: 'cotton-curtains', wallBehind: 'cotton-curtains' },
    people: false,
    short: 'timber with curtains',
    description: 'empty, cotton curtains along the wall behind and both side walls, floor to ceiling',
  },
  brick: {
    surfaces: {
      wallLeft: 'rendered-brick',
      wallRight: 'rendered-brick',
      wallBehind: 'rendered-brick',
      wallOpposite: 'rendered-brick',
      ceiling: 'plasterboard-ceiling',
    },
    people: false,
    short: 'bare brick, empty',
    description: 'as if built of plastered brick: hard walls, plasterboard ceiling, wooden floor, nobody in it',
  },
}

/** A hall of content/halls. */
export type HallContent = {
  title: string
  lengthM: number
  widthM: number
  heightM: number
  surfaces: Record<HallSurface, string>
  audience: { people: number; kind: string }
}
/** content/halls/finishes.json. */
export type FinishesContent = {
  frequenciesHz: number[]
  finishes: { id: string; absorption: number[] }[]
  people: { id: string; absorption: number[]; perM2: number }[]
}

/** The states of a hall as plain data. Throws RangeError for a finish or an audience that the list does not have. */
export function hallStates(hall: HallContent, content: FinishesContent): HallState[] {
  const finishOf = (id: string): number[] => found(content.finishes, id).absorption
  const { absorption, perM2 } = found(content.people, hall.audience.kind)
  return hallStateKeys.map((key) => {
    const { surfaces, people, short, description } = furnishings[key]
    const names = { ...hall.surfaces, ...surfaces }
    const { lengthM, widthM, heightM } = hall
    return {
      key,
      short,
      description,
      design: {
        lengthM,
        widthM,
        heightM,
        frequenciesHz: content.frequenciesHz,
        surfaces: Object.fromEntries(
          Object.entries(names).map(([surface, id]) => [surface, finishOf(id)]),
        ) as HallDesign['surfaces'],
        objectsM2: absorption.map((alpha) => (people ? (alpha / perM2) * hall.audience.people : 0)),
      },
    }
  })
}

function found<Entry extends { id: string }>(entries: Entry[], id: string): Entry {
  const entry = entries.find((each) => each.id === id)
  if (!entry) throw new RangeError(`finish is ${id}; allowed is ${entries.map((each) => each.id).join(', ')}`)
  return entry
}

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

/** Furniture of Tidewater Grange on the plan, in the coordinates of the rig, m. Drawn, not computed with. */
export const furniture = [
  { name: 'stage', xMinM: 0.7, xMaxM: 7, zMinM: -1.8, zMaxM: 0.8 },
  { name: 'auction tables', xMinM: -2.2, xMaxM: 6.6, zMinM: -2.95, zMaxM: -2.35 },
] as const

/** At the auction tables straight behind the rig: the place that the page begins with, m. */
export const tablePlace = { xM: 0, zM: -2.5 } as const
