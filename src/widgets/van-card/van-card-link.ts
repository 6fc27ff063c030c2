import type { LengthUnit } from '../../state/preferences.ts'
import type { LinkSchema } from '../../state/share-link.ts'
import { unitsField } from '../figure/units-field.ts'
import { rigField } from '../rig-choice/rig-choice.ts'

/** What a link to the card keeps: whose numbers it has. */
export type VanCardState = { rig: string; units: LengthUnit | 'own' }

/** The link of the card, for the rigs that the page has. */
export const vanCardLink = (rigKeys: readonly string[]): LinkSchema<VanCardState> => ({
  name: 'card',
  version: 1,
  fields: { rig: rigField(rigKeys), units: unitsField },
})
