import type { Rig } from '../../acoustics/index.ts'
import type { WallQuestion } from '../../engine/questions/wall/wall.ts'
import { gapOfFaceM, lessonFaceToWallM, wallFrequenciesHz, wallRange } from '../../engine/questions/wall/wall-terms.ts'
import { type Finish, wallFinishNames } from '../../engine/scene/finishes.ts'
import { check, checked, numberField, wordField } from '../../state/link-fields.ts'
import type { LengthUnit } from '../../state/preferences.ts'
import { defaultState, type LinkSchema } from '../../state/share-link.ts'
import { notAStep } from '../../words/words.messages.ts'
import { unitsField } from '../figure/units-field.ts'
import { frontLevelField } from '../heard/front-level-field.ts'
import { type ListenState, listenFields } from '../listen/listen-fields.ts'
import { rigField } from '../rig-choice/rig-choice.ts'

/** Everything that a link to the wall keeps. The volume is not in it: sound always starts quiet. */
export type WallDistanceState = ListenState & {
  rig: string
  gapM: number
  frontM: number
  fromWallM: number
  frequencyHz: number
  floor: 'without' | 'with' | 'grass'
  side: 'without' | 'with'
  sideGapM: number
  finish: Finish
  /** Which two places are heard against each other. */
  compare: 'places' | 'wall'
  referenceDbA: number
  units: LengthUnit | 'own'
}

const { gapM, frontM, sideGapM } = wallRange

/** The link of the wall, version 2 (version 1 began with another case), for the rigs that the page has. */
export const wallDistanceLink = (rigKeys: readonly string[]): LinkSchema<WallDistanceState> => ({
  name: 'wall',
  version: 2,
  unsaid: { 1: { gapM: 1.78, frequencyHz: 35 } },
  fields: {
    rig: rigField(rigKeys),
    /** From the rearmost face of the rig to the wall behind it. */
    gapM: {
      read: numberField(gapM.min, gapM.max, 'm'),
      default: 1.2,
    },
    /** From the front face to the listener in front. */
    frontM: {
      read: numberField(frontM.min, frontM.max, 'm'),
      default: 4,
    },
    /** From the wall to the place between box and wall; it stops at the back of the box. */
    fromWallM: {
      read: numberField(0, gapM.max, 'm'),
      default: 0.3,
    },
    /** The frequency that is looked at. */
    frequencyHz: {
      read: checked(
        numberField(25, 250, 'Hz'),
        check((value) => wallFrequenciesHz.includes(value), notAStep()),
      ),
      default: 50,
    },
    /** Whether the floor reflects: left out, concrete, or grass under a wall outdoors. */
    floor: { read: wordField(['without', 'with', 'grass']), default: 'without' },
    /** Whether a side wall makes a corner. */
    side: { read: wordField(['without', 'with']), default: 'without' },
    /** From the right-hand side of the rig to the side wall. */
    sideGapM: {
      read: numberField(sideGapM.min, sideGapM.max, 'm'),
      default: 0.5,
    },
    /** What the walls are made of. */
    finish: { read: wordField(wallFinishNames), default: 'hard-walls' },
    /** Heard: both places, or the place in front with the wall and without. */
    compare: {
      read: wordField(['places', 'wall']),
      default: 'wall',
    },
    referenceDbA: frontLevelField,
    ...listenFields('music'),
    units: unitsField,
  },
})

/** The question that a state asks of a rig. The place between box and wall stops at the back of the box. */
export const questionOf = (state: WallDistanceState, rig: Rig): WallQuestion => ({
  rig,
  surroundings: {
    kind: 'wall',
    gapM: state.gapM,
    sideGapM: state.side === 'with' ? state.sideGapM : null,
    ...(state.floor !== 'without' && { floor: state.floor === 'grass' ? 'grass' : 'concrete' }),
    finish: state.finish,
  },
  frontM: state.frontM,
  fromWallM: Math.min(state.fromWallM, state.gapM),
  frequencyHz: state.frequencyHz,
  referenceDbA: state.referenceDbA,
})

/** The gap of the lesson's case, to the centimetre. */
export const lessonGapM = (rig: Rig): number => Math.round(100 * gapOfFaceM(lessonFaceToWallM, rig)) / 100

/** The state that a page begins with: the first rig, in the lesson's case. */
export const firstWallState = (rigKeys: readonly string[], rig: Rig): WallDistanceState => ({
  ...defaultState(wallDistanceLink(rigKeys)),
  gapM: lessonGapM(rig),
})
