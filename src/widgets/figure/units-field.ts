import { wordField } from '../../state/link-fields.ts'
import type { LengthUnit } from '../../state/preferences.ts'
import type { LinkField } from '../../state/share-link.ts'

/** The part of a link that says in what lengths are told: metres or feet; own: as the reader has set. */
export const unitsField: LinkField<LengthUnit | 'own'> = {
  read: wordField(['own', 'm', 'ft']),
  default: 'own',
}
