import type { Rig } from '../../acoustics/index.ts'
import type { HallMapQuestion } from '../../engine/questions/hall/hall-map.ts'
import type { HallQuestion } from '../../engine/questions/hall/hall-parts.ts'
import { type HallStateKey, hallStateKeys, tablePlace } from '../../engine/scene/demo-hall.ts'
import type { HallDesign } from '../../engine/scene/hall-scene.ts'
import {
  evenHall,
  type HallState,
  mapHz,
  ownHallRange,
  type SourcePlace,
  sourcePlaces,
} from '../../engine/scene/hall-terms.ts'
import { spectrumBands } from '../../engine/scene/third-octaves.ts'
import { check, checked, numberField, wordField } from '../../state/link-fields.ts'
import type { LengthUnit } from '../../state/preferences.ts'
import type { LinkSchema } from '../../state/share-link.ts'
import { unitsField } from '../figure/units-field.ts'
import { frontLevelField } from '../heard/front-level-field.ts'
import { type ListenState, listenFields } from '../listen/listen-fields.ts'
import { rigField } from '../rig-choice/rig-choice.ts'
import { notThirdOctave } from './hall-parts.messages.ts'

/** Everything that a link to the hall keeps. The volume is not in it: sound always starts quiet. */
export type HallPartsState = ListenState & {
  rig: string
  hall: HallStateKey | 'own'
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
  other: HallStateKey
  referenceDbA: number
  units: LengthUnit | 'own'
}

const own = ownHallRange
const metres = ({ min, max }: { min: number; max: number }) => numberField(min, max, 'm')

/** The link of the hall, version 1, for the rigs that the page has. */
export const hallPartsLink = (rigKeys: readonly string[]): LinkSchema<HallPartsState> => ({
  name: 'hall',
  version: 1,
  fields: {
    rig: rigField(rigKeys),
    hall: {
      read: wordField([...hallStateKeys, 'own']),
      default: 'timber',
      meaning: 'state of the hall, or one of the reader’s own',
    },
    lengthM: { read: metres(own.lengthM), default: 18, meaning: 'length of an own hall' },
    widthM: { read: metres(own.widthM), default: 11, meaning: 'width of an own hall' },
    heightM: { read: metres(own.heightM), default: 4.6, meaning: 'height of an own hall' },
    absorption: {
      read: numberField(own.absorption.min, own.absorption.max, ''),
      default: 0.15,
      meaning: 'mean absorption coefficient of an own hall, 0 hard to 1 open',
    },
    xM: {
      read: numberField(-100, 100, 'm'),
      default: tablePlace.xM,
      meaning: 'listener, to the right of the rig as it faces',
    },
    zM: {
      read: numberField(-100, 100, 'm'),
      default: tablePlace.zM,
      meaning: 'listener, in front of the front face',
    },
    bandHz: {
      read: checked(
        numberField(31.5, 16000, 'Hz'),
        check((value) => spectrumBands.some(({ nominalHz }) => nominalHz === value), notThirdOctave()),
      ),
      default: 2000,
      meaning: 'the third octave that is looked at',
    },
    view: { read: wordField(['parts', 'resonances']), default: 'parts', meaning: 'what the plan shows' },
    frequencyHz: { read: numberField(mapHz.min, mapHz.max, 'Hz'), default: 47, meaning: 'frequency of the map' },
    source: { read: wordField(sourcePlaces), default: 'usual', meaning: 'where the rig stands in the map' },
    compare: {
      read: wordField(['places', 'outdoors', 'halls']),
      default: 'places',
      meaning:
        'heard: here and in front, here and the same place in free air, or here and in another state of the hall',
    },
    other: { read: wordField(hallStateKeys), default: 'curtains', meaning: 'the other state of the hall' },
    referenceDbA: frontLevelField,
    ...listenFields('music'),
    units: unitsField,
  },
})

/** The hall of a state. */
export function designOf(state: HallPartsState, halls: readonly HallState[]): HallDesign {
  const chosen = halls.find(({ key }) => key === state.hall)
  return chosen ? chosen.design : evenHall(state, state.absorption)
}

/** The question that a state asks of a rig. */
export const questionOf = (state: HallPartsState, rig: Rig, halls: readonly HallState[]): HallQuestion => ({
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
