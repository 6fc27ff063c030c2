import { loudestDbA, quietestDbA, usualDbA } from '../../engine/scene/scene-terms.ts'
import { numberField } from '../../state/link-fields.ts'
import type { LinkField } from '../../state/share-link.ts'

/** The part of a link that says how loud pink noise is where the rig is set flat, in front in free air, dB(A). */
export const frontLevelField: LinkField<number> = {
  read: numberField(quietestDbA, loudestDbA, 'dB(A)'),
  default: usualDbA,
}
