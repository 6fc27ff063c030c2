import { check, checked, numberField, wordField } from '../../state/link-fields.ts'
import type { LengthUnit } from '../../state/preferences.ts'
import type { LinkSchema } from '../../state/share-link.ts'
import { notThirdOctave } from '../../words/words.messages.ts'
import { unitsField } from '../figure/units-field.ts'
import { type ListenState, listenFields } from '../listen/listen-fields.ts'

/** The third octaves that a reader can choose, nominal, Hz. */
export const waveFrequenciesHz = [
  31.5, 40, 50, 63, 80, 100, 125, 160, 200, 250, 315, 400, 500, 630, 800, 1000, 1250, 1600, 2000, 2500, 3150, 4000,
] as const

/** Widths that a reader can choose, m. */
export const widthRangeM = { min: 0.1, max: 1, step: 0.02 } as const

/** Everything that a link to the box keeps. The volume is not in it: sound always starts quiet. */
export type BoxAndWaveState = ListenState & {
  widthM: number
  frequencyHz: number
  reference: 'front' | 'no-box'
  sound: 'band' | 'all'
  units: LengthUnit | 'own'
}

/** The link of the box and the wave, version 1. */
export const boxAndWaveLink: LinkSchema<BoxAndWaveState> = {
  name: 'box-and-wave',
  version: 1,
  fields: {
    /** Width of the box; height and depth follow in proportion. */
    widthM: {
      read: numberField(widthRangeM.min, widthRangeM.max, 'm'),
      default: 0.5,
    },
    /** Frequency of the wave. */
    frequencyHz: {
      read: checked(
        numberField(31.5, 4000, 'Hz'),
        check((value) => waveFrequenciesHz.some((known) => known === value), notThirdOctave()),
      ),
      default: 125,
    },
    /** What the levels are against: the front, or the same cone without a box. */
    reference: {
      read: wordField(['front', 'no-box']),
      default: 'front',
    },
    /** What is heard: the third octave at the frequency, or everything. */
    sound: {
      read: wordField(['band', 'all']),
      default: 'band',
    },
    ...listenFields('pink-noise'),
    units: unitsField,
  },
}
