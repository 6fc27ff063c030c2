import { check, checked, numberField } from '../../state/link-fields.ts'
import type { LengthUnit } from '../../state/preferences.ts'
import { notOneOf } from '../../state/share-link.messages.ts'
import type { LinkSchema } from '../../state/share-link.ts'
import { unitsField } from '../figure/units-field.ts'
import { contourFrequenciesHz } from './contour-curves.ts'
import { notThirdOctave } from './equal-loudness.messages.ts'

/** The bass tones that the drop can be tried with, Hz. */
export const bassTonesHz = [40, 50, 63, 80] as const

/** Everything that a link to the explorer keeps. The volume is not in it: sound always starts quiet. */
export type EqualLoudnessState = {
  frequencyHz: number
  /** Level as asked for, dB re 20 µPa; the model keeps it where the standard has contours. */
  levelDb: number
  bassHz: number
  units: LengthUnit | 'own'
}

/** The link of the explorer, version 1. */
export const equalLoudnessLink: LinkSchema<EqualLoudnessState> = {
  name: 'contour',
  version: 1,
  fields: {
    /** Frequency of the tone. */
    frequencyHz: {
      read: checked(
        numberField(20, 12500, 'Hz'),
        check((value) => contourFrequenciesHz.includes(value), notThirdOctave()),
      ),
      default: 50,
    },
    /** Level of the tone, dB re 20 µPa. */
    levelDb: { read: numberField(-20, 130, 'dB'), default: 90 },
    /** Bass tone that drops by 10 dB. */
    bassHz: {
      read: checked(
        numberField(40, 80, 'Hz'),
        check((value) => bassTonesHz.some((known) => known === value), notOneOf({ words: bassTonesHz.join(', ') })),
      ),
      default: 50,
    },
    units: unitsField,
  },
}
