import type { DistanceDatum } from '../../acoustics/index.ts'
import { hallStateKeys } from '../../engine/scene/demo-hall.ts'
import { farthestWallM, nearestWallM } from '../../engine/scene/scene-terms.ts'
import { check, checked, numberField, wordField } from '../../state/link-fields.ts'
import type { LengthUnit } from '../../state/preferences.ts'
import type { LinkSchema } from '../../state/share-link.ts'
import { notThirdOctave } from '../../words/words.messages.ts'
import { unitsField } from '../figure/units-field.ts'
import { frontLevelField } from '../heard/front-level-field.ts'
import { type ListenState, listenFields } from '../listen/listen-fields.ts'
import { hallField, rigField } from '../rig-choice/rig-choice.ts'

/** The third octaves that a picture can show, by nominal frequency; waves above 2 kHz are finer than the drawing. */
export const pictureFrequenciesHz = [
  31.5, 40, 50, 63, 80, 100, 125, 160, 200, 250, 315, 400, 500, 630, 800, 1000, 1250, 1600, 2000, 2500, 3150, 4000,
  5000, 6300, 8000, 10000, 12500, 16000,
] as const
export const highestWaveHz = 2000

/** Everything that a link to the walk-round keeps. The volume is not in it: sound always starts quiet. */
export type WalkRoundState = ListenState & {
  rig: string
  angleDeg: number
  distanceM: number
  datum: DistanceDatum
  picture: 'waves' | 'levels'
  bands: 'two' | 'one'
  frequencyHz: number
  /** In free air, on hard ground or grass, in front of a wall, or in the hall. */
  surroundings: 'outdoors' | 'hard' | 'grass' | 'wall' | 'hall'
  /** State of the hall, or one of the reader's own. */
  hall: string
  /** From the rearmost face to that wall, m. */
  wallM: number
  /** How loud the rig is set in front, dB(A). */
  referenceDbA: number
  units: LengthUnit | 'own'
}

/** Range of the listener's place, in the units of its controls. */
export const listenerRange = {
  angleDeg: { min: -180, max: 180, step: 5 },
  distanceM: { min: 0.25, max: 4, step: 0.25 },
} as const

/** The link of the walk-round, version 1, for the rigs and halls that the page has. */
export const walkRoundLink = (
  rigKeys: readonly string[],
  hallKeys: readonly string[] = hallStateKeys,
): LinkSchema<WalkRoundState> => ({
  name: 'walk',
  version: 1,
  fields: {
    rig: rigField(rigKeys),
    /** Direction of the listener from the front face: 0 in front, 180 behind, positive to the rig’s right. */
    angleDeg: {
      read: numberField(-180, 180, 'degrees'),
      default: 180,
    },
    /** Distance of the listener from the middle of the front face, in plan. */
    distanceM: {
      read: numberField(listenerRange.distanceM.min, listenerRange.distanceM.max, 'm'),
      default: 2.5,
    },
    /** From where distance is measured. */
    datum: {
      read: wordField(['front-face', 'nearest-face']),
      default: 'front-face',
    },
    /** What the plan shows. */
    picture: { read: wordField(['waves', 'levels']), default: 'waves' },
    /** A bass and a treble half, or one frequency all over. */
    bands: {
      read: wordField(['two', 'one']),
      default: 'two',
    },
    /** The frequency of the one-frequency picture. */
    frequencyHz: {
      read: checked(
        numberField(31.5, 16000, 'Hz'),
        check((value) => pictureFrequenciesHz.some((known) => known === value), notThirdOctave()),
      ),
      default: 250,
    },
    /** Where the rig stands. */
    surroundings: {
      read: wordField(['outdoors', 'hard', 'grass', 'wall', 'hall']),
      default: 'outdoors',
    },
    /** State of Tidewater Grange, or a hall of the reader’s own. */
    hall: hallField(hallKeys, 'timber'),
    /** How far the wall is behind the rearmost face of the rig. */
    wallM: {
      read: numberField(nearestWallM, farthestWallM, 'm'),
      default: 1,
    },
    referenceDbA: frontLevelField,
    ...listenFields('pink-noise'),
    units: unitsField,
  },
})
