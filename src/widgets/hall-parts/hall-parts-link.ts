import type { Rig } from '../../acoustics/index.ts'
import type { HallMapQuestion } from '../../engine/questions/hall/hall-map.ts'
import type { HallQuestion } from '../../engine/questions/hall/hall-parts.ts'
import { hallStateKeys, tablePlace } from '../../engine/scene/demo-hall.ts'
import type { HallDesign } from '../../engine/scene/hall-scene.ts'
import { evenHall, mapHz, ownHallRange, type SourcePlace, sourcePlaces } from '../../engine/scene/hall-terms.ts'
import { spectrumBands } from '../../engine/scene/third-octaves.ts'
import { check, checked, numberField, wordField } from '../../state/link-fields.ts'
import type { LengthUnit } from '../../state/preferences.ts'
import type { LinkSchema } from '../../state/share-link.ts'
import { unitsField } from '../figure/units-field.ts'
import { frontLevelField } from '../heard/front-level-field.ts'
import { type ListenState, listenFields } from '../listen/listen-fields.ts'
import type { HallChoice } from '../rig-choice/hall-choice.ts'
import { hallField, rigField } from '../rig-choice/rig-choice.ts'
import { notThirdOctave } from './hall-parts.messages.ts'

/** Everything that a link to the hall keeps. The volume is not in it: sound always starts quiet. */
export type HallPartsState = ListenState & {
  rig: string
  /** A state of the demo hall, 'own' for one with even walls, or the key of one of the reader's own. */
  hall: string
  lengthM: number
  widthM: number
  heightM: number
  absorption: number
  xM: number
  zM: number
  bandHz: number
  view: 'parts' | 'resonances'
  frequencyHz: number
  source: SourcePlace
  compare: 'places' | 'outdoors' | 'halls'
  other: string
  referenceDbA: number
  units: LengthUnit | 'own'
}

const own = ownHallRange
const metres = ({ min, max }: { min: number; max: number }) => numberField(min, max, 'm')

/** The link of the hall, version 1, for the rigs and halls that the page has. */
export const hallPartsLink = (
  rigKeys: readonly string[],
  hallKeys: readonly string[] = hallStateKeys,
): LinkSchema<HallPartsState> => ({
  name: 'hall',
  version: 1,
  fields: {
    rig: rigField(rigKeys),
    /** State of the hall, or one of the reader’s own. */
    hall: hallField([...hallKeys, 'own'], 'timber'),
    /** Length of an own hall. */
    lengthM: { read: metres(own.lengthM), default: 18 },
    /** Width of an own hall. */
    widthM: { read: metres(own.widthM), default: 11 },
    /** Height of an own hall. */
    heightM: { read: metres(own.heightM), default: 4.6 },
    /** Mean absorption coefficient of an own hall, 0 hard to 1 open. */
    absorption: {
      read: numberField(own.absorption.min, own.absorption.max, ''),
      default: 0.15,
    },
    /** Listener, to the right of the rig as it faces. */
    xM: {
      read: numberField(-100, 100, 'm'),
      default: tablePlace.xM,
    },
    /** Listener, in front of the front face. */
    zM: {
      read: numberField(-100, 100, 'm'),
      default: tablePlace.zM,
    },
    /** The third octave that is looked at. */
    bandHz: {
      read: checked(
        numberField(31.5, 16000, 'Hz'),
        check((value) => spectrumBands.some(({ nominalHz }) => nominalHz === value), notThirdOctave()),
      ),
      default: 2000,
    },
    /** What the plan shows. */
    view: { read: wordField(['parts', 'resonances']), default: 'parts' },
    /** Frequency of the map. */
    frequencyHz: { read: numberField(mapHz.min, mapHz.max, 'Hz'), default: 47 },
    /** Where the rig stands in the map. */
    source: { read: wordField(sourcePlaces), default: 'usual' },
    /** Heard: here and in front, here and the same place in free air, or here and in another state of the hall. */
    compare: {
      read: wordField(['places', 'outdoors', 'halls']),
      default: 'places',
    },
    /** The other state of the hall, or a hall of the reader’s own. */
    other: hallField(hallKeys, 'curtains'),
    referenceDbA: frontLevelField,
    ...listenFields('music'),
    units: unitsField,
  },
})

/** The hall of a state. */
export function designOf(state: HallPartsState, halls: readonly HallChoice[]): HallDesign {
  return halls.find(({ key }) => key === state.hall)?.design ?? evenHall(state, state.absorption)
}

/** The question that a state asks of a rig. */
export const questionOf = (state: HallPartsState, rig: Rig, halls: readonly HallChoice[]): HallQuestion => ({
  rig,
  hall: designOf(state, halls),
  place: { xM: state.xM, zM: state.zM },
  bandHz: state.bandHz,
  referenceDbA: state.referenceDbA,
})

/** The map that a state asks for, of the rig and the hall of its question. */
export const mapQuestionOf = (
  { frequencyHz, source }: Pick<HallPartsState, 'frequencyHz' | 'source'>,
  { rig, hall }: HallQuestion,
): HallMapQuestion => ({ rig, hall, frequencyHz, source })
