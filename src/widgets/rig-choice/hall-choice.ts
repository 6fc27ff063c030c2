import type { PlanPoint } from '../../acoustics/index.ts'
import type { HallDesign } from '../../engine/scene/hall-scene.ts'

/** A place of a hall by its name, in the coordinates of the rig that stands there. */
export type NamedPlace = PlanPoint & { name: string }

/** A hall as a figure offers it: a state of the demo hall, or one of the reader's own, which may be ground in the open. */
export type HallChoice = {
  key: string
  short: string
  description: string
  design?: HallDesign
  /** In the open, where there is no design. */
  ground?: 'hard' | 'grass'
  /** Of the reader's own: the main one first. */
  places?: NamedPlace[]
}

/** The place in front that a hall of the reader's own is told for, and the one behind the rig, or the next best. */
export function placesOf({ places = [] }: Pick<HallChoice, 'places'>): { front?: NamedPlace; behind?: NamedPlace } {
  const [main, ...others] = places
  const behind = others.find(({ zM }) => zM < 0) ?? others[0] ?? main
  return { ...(main && { front: main }), ...(behind && { behind }) }
}
