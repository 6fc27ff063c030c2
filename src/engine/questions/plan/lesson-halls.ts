import content from '../../../../content/halls/lesson-halls.json' with { type: 'json' }
import type { HallSurface } from '../../../acoustics/index.ts'
import type { PlanGoal } from './plan-goals.ts'

// The places of lesson 10 that a reader is to solve: as they begin, what is wanted, and one way to get it.

export type LessonHallKey = keyof typeof content.halls
export const lessonHallKeys = Object.keys(content.halls) as LessonHallKey[]

/** A box as a hall of the lesson begins with it: facing away from the wall behind, set to nothing. Lengths as in a plan. */
type LessonBox = { id: string; box: string; xM: number; zM: number; baseM: number }
type LessonPlace = { id: string; xM: number; zM: number; earM: number }

export type LessonHall = {
  ground:
    | {
        kind: 'hall'
        lengthM: number
        widthM: number
        heightM: number
        people: number
        surfaces: Record<HallSurface, string>
      }
    | { kind: 'outdoors'; lengthM: number; widthM: number; ground: 'hard' | 'grass' }
  stage: { xM: number; zM: number; widthM: number; depthM: number; heightM: number } | null
  cabinets: LessonBox[]
  places: LessonPlace[]
  mainPlace: string
  /** Pink noise at the main place, dB(A). */
  programmeDbA: number
  neighbour: {
    side: 'wallBehind' | 'wallOpposite' | 'wallLeft' | 'wallRight'
    distanceM: number
    wall: string
    roof: string
    door: string
    doorM2: number
  } | null
  /** The places that may be moved; boxes may all be. */
  movable: string[]
  goals: PlanGoal[]
  /** What one way changes, by id. */
  solution: {
    cabinets: Record<
      string,
      Partial<{ xM: number; zM: number; yawDeg: number; levelDb: number; delayMs: number; inverted: boolean }>
    >
    places: Record<string, Partial<{ xM: number; zM: number }>>
  }
}

export const lessonHall = (key: LessonHallKey): LessonHall => content.halls[key] as LessonHall
