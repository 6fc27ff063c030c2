import { numberField, wordField } from '../../state/link-fields.ts'
import type { LengthUnit } from '../../state/preferences.ts'
import type { LinkSchema } from '../../state/share-link.ts'
import { unitsField } from '../figure/units-field.ts'
import { frontLevelField } from '../heard/front-level-field.ts'
import { type ListenState, listenFields } from '../listen/listen-fields.ts'
import { rigField } from '../rig-choice/rig-choice.ts'
import * as say from './loudness-stack.messages.ts'

/** Everything that a link to the loudness stack keeps. The volume is not in it: sound always starts quiet. */
export type LoudnessStackState = ListenState & {
  rig: string
  angleDeg: number
  distanceM: number
  /** How loud the rig is set in front, dB(A). */
  referenceDbA: number
  /** Loudness as it is, or each place's as a share of its own whole. */
  view: 'heard' | 'share'
  units: LengthUnit | 'own'
}

/** Range of the listener's place, in the units of its controls. */
export const stackRange = {
  angleDeg: { min: -180, max: 180, step: 5 },
  distanceM: { min: 0.5, max: 4, step: 0.05 },
} as const

/** The link of the loudness stack, version 1, for the rigs that the page has. */
export const loudnessStackLink = (rigKeys: readonly string[]): LinkSchema<LoudnessStackState> => ({
  name: 'stack',
  version: 1,
  fields: {
    rig: rigField(rigKeys),
    /** Direction of the listener from the front face: 0 in front, 180 behind, positive to the rig’s right. */
    angleDeg: {
      read: numberField(stackRange.angleDeg.min, stackRange.angleDeg.max, say.unitDegrees()),
      default: 180,
    },
    /** Distance of the listener from the middle of the front face, in plan. */
    distanceM: {
      read: numberField(stackRange.distanceM.min, stackRange.distanceM.max, 'm'),
      default: 2.5,
    },
    referenceDbA: frontLevelField,
    /** Loudness as heard, or as a share of each place’s own whole. */
    view: {
      read: wordField(['heard', 'share']),
      default: 'heard',
    },
    ...listenFields('pink-noise'),
    units: unitsField,
  },
})
