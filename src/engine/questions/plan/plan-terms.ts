import type { Rig, RigCabinet } from '../../../acoustics/index.ts'
import type { InAir } from '../../scene/air.ts'
import type { HallDesign } from '../../scene/hall-scene.ts'
import type { Heard } from '../../scene/heard.ts'

// What a plan asks and what it is told. Lengths in the hall's coordinates: x right from the middle, y up, z from the wall behind.

/** A cabinet without its place. */
export type PlanBoxModel = Omit<RigCabinet, 'frontCentre' | 'yawRad'>

/** A cabinet where it stands: the middle of its front face on the plan, its underside above the floor, and what it is fed with. */
export type StandingCabinet = {
  id: string
  /** A key of the question's boxes. */
  box: string
  xM: number
  zM: number
  baseM: number
  yawRad: number
  levelDb: number
  delayS: number
  polarity: 1 | -1
}

/** Where somebody listens; ears above the floor. */
export type ListenedPlace = { id: string; xM: number; zM: number; earM: number }

export type PlanSurroundings = { kind: 'hall'; design: HallDesign } | { kind: 'outdoors'; ground: 'hard' | 'grass' }

export type PlanQuestion = InAir & {
  /** The demo rigs whose solved cabinets are needed. */
  rigs: Rig[]
  boxes: Record<string, PlanBoxModel>
  surroundings: PlanSurroundings
  cabinets: StandingCabinet[]
  places: ListenedPlace[]
  /** Whether people stand before the boxes; nobody unless given. */
  crowd?: boolean
  /** The place that all are told against, and how loud pink noise is there, dB(A). */
  mainPlace: string
  programmeDbA: number
}

/** What cuts a piece out of the spectrum at a place. */
export type DipCause =
  | { kind: 'surface'; surface: 'floor' | 'ceiling' | 'wallLeft' | 'wallRight' | 'wallBehind' | 'wallOpposite' }
  | { kind: 'box'; id: string }
  /** No single arrival: resonances, or several of them together. */
  | { kind: 'several' }

/** A dip: how far a sixth of an octave lies under the octave round it. */
export type PlanDip = { frequencyHz: number; depthDb: number; cause: DipCause }

/** What people who stand between take from the direct sound of the box that sends a place its treble: see crowdPath. */
export type CrowdTaken = { box: string; elevationDeg: number; lossDb: number; raiseM: number }

/** The levels of one place. dB re 20 µPa, differences against the main place. */
export type PlaceLevels = {
  id: string
  /** Third octaves, those of heardBands. */
  levelsDb: number[]
  bassDb: number
  middleDb: number
  trebleDb: number
  aWeightedDb: number
  cWeightedDb: number
  reMain: { bassDb: number; middleDb: number; trebleDb: number; aWeightedDb: number }
  /** How long one may stay by NIOSH's recommendation for work, h, at the level as it is told. */
  exposure: { levelDbA: number; hours: number }
  /** With a crowd that takes something there. */
  crowd?: CrowdTaken
}

/** What one place gets. */
export type PlaceAnswer = PlaceLevels & {
  /** null where a third octave passes what the loudness method takes. */
  heard: Heard | null
  dips: PlanDip[]
}

export type PlanAnswer = {
  places: PlaceAnswer[]
  /** What was added to the levels of the rig's transfer function, dB. */
  liftDb: number
  /** Hall only: where resonances end and statistics begin, Hz. */
  joiningHz: number | null
}

/** Somebody beyond the walls. */
export type NeighbourQuestion = PlanQuestion & {
  side: 'wallBehind' | 'wallOpposite' | 'wallLeft' | 'wallRight'
  distanceM: number
  wall: string
  roof: string
  door: string
  doorM2: number
}

export type NeighbourAnswer = {
  aWeightedDb: number
  cWeightedDb: number
  /** By which way how much comes, dB(C). */
  ways: { wall: number; roof: number; door: number | null }
  /** The strongest third octave, Hz. */
  strongestHz: number
}

/** What of the spectrum a map is of: a group, or a third octave by its nominal mid-band frequency, Hz. */
export type MapPart = 'bass' | 'middle' | 'treble' | number

/** A map of the whole floor at one height, in strips across the hall: which rows of how many. */
export type PlanMapQuestion = PlanQuestion & {
  part: MapPart
  /** Of the floor that is shown: x from −widthM/2 to widthM/2, z from 0 to lengthM. */
  floor: { widthM: number; lengthM: number }
  heightM: number
  columns: number
  rows: number
  fromRow: number
  toRow: number
}

/** Levels re the main place, dB, row by row from the wall behind; `inside` is 1 where a box is. */
export type PlanMapStrip = { levelDb: Float32Array; inside: Uint8Array }
