import type { Finish } from './finishes.ts'
import type { HallDesign } from './hall-scene.ts'

/** A floor that sends sound back: quite hard, all of it and at all frequencies, or concrete, or grass. */
export type Floor = 'hard' | 'concrete' | 'grass'

/** In the open: free air all round, or over a floor. */
export type Outdoors = { kind: 'outdoors'; floor?: Floor }

/** In front of a wall, and beside another one if there is one; all at right angles. */
export type AtWall = {
  kind: 'wall'
  /** From the rearmost face to the wall behind it, m. */
  gapM: number
  /** From the right-hand side to a side wall, m; null or left out without one. */
  sideGapM?: number | null
  floor?: Floor
  /** What the walls are made of; quite hard at all frequencies unless given. */
  finish?: Finish
}

/** In a hall, where rigPlaceIn says. */
export type InHall = { kind: 'hall'; design: HallDesign }

/** What stands round loudspeakers. A question that counts only a part of it says so in its type. */
export type Surroundings = Outdoors | AtWall | InHall
