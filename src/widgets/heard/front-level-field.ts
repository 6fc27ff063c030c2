import { loudestDbA, quietestDbA, referenceDistanceM, usualDbA } from '../../engine/scene/scene-terms.ts'
import { numberField } from '../../state/link-fields.ts'
import type { LinkField } from '../../state/share-link.ts'

/** The part of a link that says how loud the rig is set in front, dB(A). */
export const frontLevelField: LinkField<number> = {
  read: numberField(quietestDbA, loudestDbA, 'dB(A)'),
  default: usualDbA,
  meaning: `how loud pink noise is where the rig is set flat, ${referenceDistanceM} m in front in free air`,
}
