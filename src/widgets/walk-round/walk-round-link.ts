import type { DistanceDatum } from '../../acoustics/index.ts'
import { type HallStateKey, hallStateKeys } from '../../engine/scene/demo-hall.ts'
import { farthestWallM, nearestWallM } from '../../engine/scene/scene-terms.ts'
import { check, checked, numberField, wordField } from '../../state/link-fields.ts'
import type { LengthUnit } from '../../state/preferences.ts'
import type { LinkSchema } from '../../state/share-link.ts'
import { notThirdOctave } from '../../words/words.messages.ts'
import { unitsField } from '../figure/units-field.ts'
import { frontLevelField } from '../heard/front-level-field.ts'
import { type ListenState, listenFields } from '../listen/listen-fields.ts'
import { rigField } from '../rig-choice/rig-choice.ts'

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
  /** In free air, in front of a wall, or in the hall. */
  surroundings: 'outdoors' | 'wall' | 'hall'
  /** State of the hall. */
  hall: HallStateKey
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

/** The link of the walk-round, version 1, for the rigs that the page has. */
export const walkRoundLink = (rigKeys: readonly string[]): LinkSchema<WalkRoundState> => ({
  name: 'walk',
  version: 1,
  fields: {
    rig: rigField(rigKeys),
    angleDeg: {
      read: numberField(-180, 180, 'degrees'),
      default: 180,
      meaning: 'direction of the listener from the front face: 0 in front, 180 behind, positive to the rig’s right',
    },
    distanceM: {
      read: numberField(listenerRange.distanceM.min, listenerRange.distanceM.max, 'm'),
      default: 2.5,
      meaning: 'distance of the listener from the middle of the front face, in plan',
    },
    datum: {
      read: wordField(['front-face', 'nearest-face']),
      default: 'front-face',
      meaning: 'from where distance is measured',
    },
    picture: { read: wordField(['waves', 'levels']), default: 'waves', meaning: 'what the plan shows' },
    bands: {
      read: wordField(['two', 'one']),
      default: 'two',
      meaning: 'a bass and a treble half, or one frequency all over',
    },
    frequencyHz: {
      read: checked(
        numberField(31.5, 16000, 'Hz'),
        check((value) => pictureFrequenciesHz.some((known) => known === value), notThirdOctave()),
      ),
      default: 250,
      meaning: 'the frequency of the one-frequency picture',
    },
    surroundings: {
      read: wordField(['outdoors', 'wall', 'hall']),
      default: 'outdoors',
      meaning: 'where the rig stands',
    },
    hall: {
      read: wordField(hallStateKeys),
      default: 'timber',
      meaning: 'state of Tidewater Grange',
    },
    wallM: {
      read: numberField(nearestWallM, farthestWallM, 'm'),
      default: 1,
      meaning: 'how far the wall is behind the rearmost face of the rig',
    },
    referenceDbA: frontLevelField,
    ...listenFields('pink-noise'),
    units: unitsField,
  },
})
