import { check, checked, numberField } from '../../state/link-fields.ts'
import type { LengthUnit } from '../../state/preferences.ts'
import { notOneOf } from '../../state/share-link.messages.ts'
import type { LinkSchema } from '../../state/share-link.ts'
import { unitsField } from '../figure/units-field.ts'
import { testOrderHz, testTonesHz } from './matched-tones.ts'

/** What a link to the listening test keeps: the tone in hand, never a result. */
export type MatchByEarState = { frequencyHz: number; units: LengthUnit | 'own' }

/** The link of the listening test, version 1. */
export const matchByEarLink: LinkSchema<MatchByEarState> = {
  name: 'match',
  version: 1,
  fields: {
    /** The tone in hand. */
    frequencyHz: {
      read: checked(
        numberField(40, 8000, 'Hz'),
        check((value) => testTonesHz.some((known) => known === value), notOneOf({ words: testTonesHz.join(', ') })),
      ),
      default: testOrderHz[0] ?? 500,
    },
    units: unitsField,
  },
}
