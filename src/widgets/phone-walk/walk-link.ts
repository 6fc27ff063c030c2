import { type HallStateKey, hallStateKeys } from '../../engine/scene/demo-hall.ts'
import { wordField } from '../../state/link-fields.ts'
import type { LengthUnit } from '../../state/preferences.ts'
import type { LinkSchema } from '../../state/share-link.ts'
import { unitsField } from '../figure/units-field.ts'
import { rigField } from '../rig-choice/rig-choice.ts'

/** What a link says: whose prediction is drawn, and where that rig stands. What was measured stays on the device. */
export type PhoneWalkState = { rig: string; where: 'outdoors' | HallStateKey; units: LengthUnit | 'own' }

/** The link of the walk with the phone, version 1, for the rigs that the page has. */
export const phoneWalkLink = (rigKeys: readonly string[]): LinkSchema<PhoneWalkState> => ({
  name: 'phone',
  version: 1,
  fields: {
    rig: rigField(rigKeys),
    /** Where the rig of the prediction stands: outdoors, or the demo hall in one of its states. */
    where: {
      read: wordField(['outdoors', ...hallStateKeys]),
      default: 'outdoors',
    },
    units: unitsField,
  },
})
