import { type FoolingTake, foolingTakes } from '../../engine/questions/compare/practice-terms.ts'
import { wordField } from '../../state/link-fields.ts'
import type { LengthUnit } from '../../state/preferences.ts'
import type { LinkSchema } from '../../state/share-link.ts'
import { unitsField } from '../figure/units-field.ts'

/** What a link keeps: the recording that is looked at. What the reader made of it is not in it. */
export type FindFaultState = { take: FoolingTake; units: LengthUnit | 'own' }

/** The link of the six recordings, version 1. */
export const findFaultLink: LinkSchema<FindFaultState> = {
  name: 'fault',
  version: 1,
  fields: {
    /** The recording that is looked at. */
    take: { read: wordField(foolingTakes), default: foolingTakes[0] },
    units: unitsField,
  },
}
