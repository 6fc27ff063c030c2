import type { LengthUnit } from '../../state/preferences.ts'
import type { LinkSchema } from '../../state/share-link.ts'
import { unitsField } from '../figure/units-field.ts'

/** What a link to the page says: the units alone. The plan stays on the device and travels as a file. */
export type PlanLinkState = { units: LengthUnit | 'own' }

/** The link of the plan, version 1. */
export const planLink: LinkSchema<PlanLinkState> = { name: 'plan', version: 1, fields: { units: unitsField } }
