import * as v from 'valibot'
import type { Rig } from '../../acoustics/index.ts'
import type { SavedRig } from '../../state/saved-rigs.ts'
import type { LinkField } from '../../state/share-link.ts'

/** A rig as a figure offers it. */
export type RigChoice = { key: string; short: string; description: string; rig: Rig }

/** Whether a rig is the reader's own, saved on this device. */
export const isOwnRig = (key: string): boolean => key.startsWith('own-')

/** A saved rig as one more choice. */
export const ownRigChoice = ({ key, name, rig }: SavedRig): RigChoice => ({
  key,
  short: `My rig: ${name}`,
  description: `“${name}” is your own rig and is on this device only: elsewhere a link to this figure opens with another rig.`,
  rig,
})

/** What is said after copying a link. */
export const linkCopiedWords = (rigKey: string): string =>
  isOwnRig(rigKey)
    ? 'Link copied. Your own rig is on this device only; to send the box, send its link from Own box.'
    : 'Link copied.'

/** The part of a link that names the rig, for the rigs that the page has; the first is the default. */
export const rigField = (rigKeys: readonly string[]): LinkField<string> => ({
  schema: v.picklist(rigKeys, ({ input }) =>
    isOwnRig(String(input))
      ? 'somebody’s own rig, which is saved on another device or was deleted'
      : `not one of: ${rigKeys.join(', ')}`,
  ),
  default: rigKeys[0] ?? '',
  meaning: 'file name of the rig, or the key of a rig saved on this device',
})
