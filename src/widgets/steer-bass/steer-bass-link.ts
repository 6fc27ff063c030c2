import type { Rig } from '../../acoustics/index.ts'
import { settableSet } from '../../engine/questions/steer/settable-set.ts'
import {
  type Arrangement,
  arrangements,
  countRange,
  type SteerCompare,
  type SteerError,
  type SteerQuestion,
  type SteerSet,
  type SteerShow,
  type SteerSurroundings,
  steerCompares,
  steerErrors,
  steerRange,
} from '../../engine/questions/steer/steer-terms.ts'
import { hallStateKeys } from '../../engine/scene/demo-hall.ts'
import { check, checked, numberField, wordField } from '../../state/link-fields.ts'
import type { LengthUnit } from '../../state/preferences.ts'
import type { LinkSchema } from '../../state/share-link.ts'
import { notAStep, notWholeNumber } from '../../words/words.messages.ts'
import { unitsField } from '../figure/units-field.ts'
import { bassListenFields } from '../listen/listen-fields.ts'
import type { HallChoice } from '../rig-choice/hall-choice.ts'
import { hallField, rigField } from '../rig-choice/rig-choice.ts'
import * as say from './steer-bass.messages.ts'

/** Everything that a link to steered bass keeps. The volume is not in it: sound always starts quiet. */
export type SteerBassState = {
  /** The rig whose lowest cabinet the boxes are. */
  rig: string
  /** Whether they are points instead. */
  point: 'no' | 'yes'
  arrangement: Arrangement
  count: number
  spacingM: number
  delayS: number
  polarity: 'same' | 'inverted'
  facing: 'front' | 'rear'
  levelDb: number
  place: SteerSurroundings['kind'] | 'grass'
  gapM: number
  hall: string
  frontXM: number
  frontZM: number
  tableXM: number
  tableZM: number
  fromHz: number
  toHz: number
  frequencyHz: number
  error: SteerError
  show: SteerShow
  compare: SteerCompare
  signal: 'pink-noise' | 'music'
  level: 'true' | 'matched'
  units: LengthUnit | 'own'
}

const { spacingM, delayS, levelDb, gapM, frontM, behindM, asideM, bandHz, frequencyHz, count } = steerRange
const metres = ({ min, max }: { min: number; max: number }) => numberField(min, max, 'm')

/** The link of steered bass, version 1, for the rigs and halls that the page has. */
export const steerBassLink = (
  rigKeys: readonly string[],
  hallKeys: readonly string[] = hallStateKeys,
): LinkSchema<SteerBassState> => ({
  name: 'steer',
  version: 1,
  fields: {
    /** The rig whose lowest cabinet the boxes are. */
    rig: { ...rigField(rigKeys) },
    /** Whether the boxes are points instead. */
    point: { read: wordField(['no', 'yes']), default: 'no' },
    /** How the boxes stand. */
    arrangement: { read: wordField(arrangements), default: 'pair' },
    /** Boxes of a line or a row; a pair has two, a trio three. */
    count: {
      read: checked(
        numberField(count.min, count.max, say.unitBoxes()),
        check((value) => Number.isInteger(value), notWholeNumber()),
      ),
      default: 2,
    },
    /** From box to box. */
    spacingM: { read: metres(spacingM), default: 1.35 },
    /** Delay of the others. */
    delayS: { read: numberField(delayS.min, delayS.max, 's'), default: 0.0039 },
    /** Polarity of the others. */
    polarity: { read: wordField(['same', 'inverted']), default: 'inverted' },
    /** Where the others face. */
    facing: { read: wordField(['front', 'rear']), default: 'front' },
    /** Level of the others. */
    levelDb: { read: numberField(levelDb.min, levelDb.max, 'dB'), default: 0 },
    /** On hard ground or grass, with a wall behind, or in the hall. */
    place: {
      read: wordField(['outdoors', 'grass', 'wall', 'hall']),
      default: 'outdoors',
    },
    /** From the rearmost face to the wall behind. */
    gapM: { read: metres(gapM), default: 2 },
    /** State of the hall, or one of the reader’s own. */
    hall: hallField(hallKeys, 'timber'),
    /** Listeners in front, to the right. */
    frontXM: { read: metres(asideM), default: 0 },
    /** Listeners in front, to the front. */
    frontZM: { read: metres(frontM), default: 5 },
    /** Quiet table, to the right. */
    tableXM: { read: metres(asideM), default: 0 },
    /** Quiet table, to the front: behind is negative. */
    tableZM: {
      read: numberField(-behindM.max, -behindM.min, 'm'),
      default: -4,
    },
    /** Lower end of the reader’s band. */
    fromHz: {
      read: numberField(bandHz.min, bandHz.max, 'Hz'),
      default: 40,
    },
    /** Upper end of the reader’s band. */
    toHz: {
      read: numberField(bandHz.min, bandHz.max, 'Hz'),
      default: 100,
    },
    /** The frequency that plan and directions show. */
    frequencyHz: {
      read: checked(
        numberField(frequencyHz.min, frequencyHz.max, 'Hz'),
        check((value) => Number.isInteger(value), notAStep()),
      ),
      default: 63,
    },
    /** What goes wrong. */
    error: { read: wordField(steerErrors), default: 'none' },
    /** What the plan shows. */
    show: { read: wordField(['set', 'stacked']), default: 'set' },
    /** What is heard against what. */
    compare: { read: wordField(steerCompares), default: 'behind' },
    ...bassListenFields,
    units: unitsField,
  },
})

/** The boxes of a state. A pair is always two and a trio three, whatever the link says. */
export function setOf(state: SteerBassState): SteerSet {
  const { min, max } = countRange[state.arrangement]
  return {
    arrangement: state.arrangement,
    count: Math.min(max, Math.max(min, state.count)),
    spacingM: state.spacingM,
    delayS: state.delayS,
    inverted: state.polarity === 'inverted',
    turned: state.facing === 'rear',
    levelDb: state.levelDb,
  }
}

/** The part of a state that a set is, as a tape and a delay can be set. */
export function stateOfSet(set: SteerSet) {
  const { arrangement, count, spacingM, delayS, levelDb, inverted, turned } = settableSet(set)
  return {
    arrangement,
    count,
    spacingM,
    delayS,
    polarity: inverted ? ('inverted' as const) : ('same' as const),
    facing: turned ? ('rear' as const) : ('front' as const),
    levelDb,
  }
}

export function surroundingsOf(state: SteerBassState, halls: readonly HallChoice[]): SteerSurroundings {
  if (state.place === 'wall') return { kind: 'wall', gapM: state.gapM, floor: 'hard' }
  const hall = halls.find(({ key }) => key === state.hall)
  if (state.place === 'hall' && hall?.design) return { kind: 'hall', design: hall.design }
  if (state.place === 'grass') return { kind: 'outdoors', floor: 'grass' }
  return { kind: 'outdoors', floor: (state.place === 'hall' && hall?.ground) || 'hard' }
}

/** The question that a state asks of a rig. */
export const questionOf = (state: SteerBassState, rig: Rig, halls: readonly HallChoice[]): SteerQuestion => ({
  rig,
  point: state.point === 'yes',
  set: setOf(state),
  surroundings: surroundingsOf(state, halls),
  front: { xM: state.frontXM, zM: state.frontZM },
  behind: { xM: state.tableXM, zM: state.tableZM },
  band: { fromHz: state.fromHz, toHz: state.toHz },
  frequencyHz: state.frequencyHz,
  // Where walls are already, none is added.
  error: state.error === 'wall' && state.place !== 'outdoors' ? 'none' : state.error,
})
