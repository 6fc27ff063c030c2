import { type HornQuestion, hornRange } from '../../engine/questions/horn/horn.ts'
import { check, checked, numberField } from '../../state/link-fields.ts'
import type { LengthUnit } from '../../state/preferences.ts'
import type { LinkSchema } from '../../state/share-link.ts'
import { notThirdOctave } from '../../words/words.messages.ts'
import { unitsField } from '../figure/units-field.ts'
import { type ListenState, listenFields } from '../listen/listen-fields.ts'
import * as say from './horn.messages.ts'

/** Frequencies to choose from: nominal third octaves, Hz. */
export const hornFrequenciesHz = [
  31.5, 40, 50, 63, 80, 100, 125, 160, 200, 250, 315, 400, 500, 630, 800, 1000, 1250, 1600, 2000, 2500, 3150, 4000,
  5000, 6300, 8000, 10000, 12500, 16000,
] as const

/** Steps of the mouth's slider, m: even to the eye on a logarithmic scale, round to the tape. */
export const mouthStepsM = [
  0.05, 0.06, 0.07, 0.08, 0.09, 0.1, 0.12, 0.14, 0.16, 0.18, 0.2, 0.22, 0.24, 0.26, 0.28, 0.3, 0.35, 0.4, 0.45, 0.5,
  0.55, 0.6, 0.7, 0.8, 0.9, 1, 1.1, 1.2, 1.4, 1.6, 1.8, 2, 2.2, 2.5, 2.8, 3, 3.5, 4, 4.5, 5, 5.5, 6,
] as const

/** Sizes that everyone carries in the head, m. */
export const mouthMarks = [
  { name: say.hand(), mouthM: 0.2 },
  { name: say.door(), mouthM: 0.9 },
  { name: say.room(), mouthM: 5 },
] as const

/** Everything that a link to the horn keeps. The volume is not in it: sound always starts quiet. */
export type HornState = ListenState & {
  mouthM: number
  coverageDeg: number
  frequencyHz: number
  units: LengthUnit | 'own'
}

const { mouthM, coverageDeg } = hornRange

/** The link of the horn, version 1. */
export const hornLink: LinkSchema<HornState> = {
  name: 'horn',
  version: 1,
  fields: {
    /** Width of the mouth. */
    mouthM: { read: numberField(mouthM.min, mouthM.max, 'm'), default: 0.26 },
    /** Nominal coverage angle, left to right. */
    coverageDeg: {
      read: checked(
        numberField(coverageDeg.min, coverageDeg.max, say.unitDegrees()),
        check((value) => Number.isInteger(value), say.notWholeDegrees()),
      ),
      default: 90,
    },
    /** Frequency of the fan. */
    frequencyHz: {
      read: checked(
        numberField(31.5, 16000, 'Hz'),
        check((value) => hornFrequenciesHz.some((known) => known === value), notThirdOctave()),
      ),
      default: 500,
    },
    ...listenFields('pink-noise'),
    units: unitsField,
  },
}

/** The question that a state asks. */
export const questionOf = ({ mouthM, coverageDeg, frequencyHz }: HornState): HornQuestion => ({
  mouthM,
  coverageDeg,
  frequencyHz,
})
