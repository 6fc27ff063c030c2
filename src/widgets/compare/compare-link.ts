import type { LengthUnit } from '../../state/preferences.ts'
import type { LinkSchema } from '../../state/share-link.ts'
import { unitsField } from '../figure/units-field.ts'
import { rigField } from '../rig-choice/rig-choice.ts'

/** What a link to the test says: whose prediction is drawn. What was measured stays on the device. */
export type CompareState = { rig: string; units: LengthUnit | 'own' }

/** The link of the test, version 1, for the rigs that the page has. */
export const compareLink = (rigKeys: readonly string[]): LinkSchema<CompareState> => ({
  name: 'compare',
  version: 1,
  fields: { rig: rigField(rigKeys), units: unitsField },
})
