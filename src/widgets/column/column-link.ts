import {
  type Column,
  type ColumnPlaceId,
  columnBands,
  columnLengthM,
  columnPlaceIds,
} from '../../engine/questions/column/column-terms.ts'
import { check, checked, numberField, wordField } from '../../state/link-fields.ts'
import type { LengthUnit } from '../../state/preferences.ts'
import type { LinkSchema } from '../../state/share-link.ts'
import { notThirdOctave, notWholeNumber } from '../../words/words.messages.ts'
import { unitsField } from '../figure/units-field.ts'
import { type ListenState, listenFields } from '../listen/listen-fields.ts'

/** The third octaves that the figure can be set to, nominal, and the highest whose waves the picture can show. */
export const columnFrequenciesHz: readonly number[] = columnBands.map(({ nominalHz }) => nominalHz)
export const highestWaveHz = 2000

/** Ranges of the controls, in their units. */
export const columnRange = {
  count: { min: 2, max: 24, step: 1 },
  spacingM: { min: 0.04, max: 0.3, step: 0.0025 },
  heightM: { min: 0.5, max: 4, step: 0.05 },
  tiltDeg: { min: 0, max: 15, step: 1 },
} as const

/** Everything that a link to the column keeps. The volume is not in it: sound always starts quiet. */
export type ColumnState = ListenState & {
  count: number
  spacingM: number
  heightM: number
  tiltDeg: number
  frequencyHz: number
  picture: 'levels' | 'waves'
  place: ColumnPlaceId
  units: LengthUnit | 'own'
}

const { count, spacingM, heightM, tiltDeg } = columnRange

/** The link of the column, version 1. */
export const columnLink: LinkSchema<ColumnState> = {
  name: 'column',
  version: 1,
  fields: {
    /** Number of drivers. */
    count: {
      read: checked(numberField(count.min, count.max, 'drivers'), check(Number.isInteger, notWholeNumber())),
      default: 8,
    },
    /** From the middle of one driver to the middle of the next. */
    spacingM: {
      read: numberField(spacingM.min, spacingM.max, 'm'),
      default: 0.1125,
    },
    /** Height of the middle of the column above the floor; a long column stands higher, on its foot. */
    heightM: {
      read: numberField(heightM.min, heightM.max, 'm'),
      default: 1.6,
    },
    /** How far the column leans forward. */
    tiltDeg: {
      read: numberField(tiltDeg.min, tiltDeg.max, 'degrees'),
      default: 0,
    },
    /** The third octave that is shown. */
    frequencyHz: {
      read: checked(
        numberField(63, 8000, 'Hz'),
        check((value) => columnFrequenciesHz.includes(value), notThirdOctave()),
      ),
      default: 1000,
    },
    /** What the two views show. */
    picture: { read: wordField(['levels', 'waves']), default: 'levels' },
    /** Who is heard. */
    place: { read: wordField(columnPlaceIds), default: 'behind' },
    ...listenFields('pink-noise'),
    units: unitsField,
  },
}

/** The lowest that the middle of a column can be, m: it stands on its foot. */
export const lowestHeightM = (row: { count: number; spacingM: number }): number =>
  Math.ceil(columnLengthM(row) * 10 - 1e-9) / 20

/** The column that a state asks for. */
export const columnOf = (state: Pick<ColumnState, 'count' | 'spacingM' | 'heightM' | 'tiltDeg'>): Column => ({
  count: state.count,
  spacingM: state.spacingM,
  heightM: Math.max(state.heightM, lowestHeightM(state)),
  tiltRad: (state.tiltDeg * Math.PI) / 180,
})
