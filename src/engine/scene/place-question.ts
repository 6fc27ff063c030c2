import type { DistanceDatum, ListeningPlace, Rig } from '../../acoustics/index.ts'
import type { InAir } from './air.ts'

/** One rig and one place beside it, at a distance measured from somewhere. */
export type PlaceQuestion = InAir & {
  rig: Rig
  place: ListeningPlace
  /** From where the distance is measured. */
  datum: DistanceDatum
  /** How loud pink noise is where the rig is set flat, dB(A), quietestDbA … loudestDbA; usualDbA unless given. */
  referenceDbA?: number
}
