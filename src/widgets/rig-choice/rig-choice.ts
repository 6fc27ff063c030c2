import type { Rig } from '../../acoustics/index.ts'
import { wordField } from '../../state/link-fields.ts'
import type { SavedRig } from '../../state/saved-rigs.ts'
import { notOneOf } from '../../state/share-link.messages.ts'
import type { LinkField } from '../../state/share-link.ts'
import { linkCopied } from '../figure/figure.messages.ts'
import * as say from './rig-choice.messages.ts'

/** A rig as a figure offers it. */
export type RigChoice = { key: string; short: string; description: string; rig: Rig }

/** Whether a rig is the reader's own, saved on this device. */
export const isOwnRig = (key: string): boolean => key.startsWith('own-')

/** A saved rig as one more choice. */
export const ownRigChoice = ({ key, name, rig }: SavedRig): RigChoice => ({
  key,
  short: say.myRig({ name }),
  description: say.ownRig({ name }),
  rig,
})

/** What is said after copying a link. */
export const linkCopiedWords = (rigKey: string): string => (isOwnRig(rigKey) ? say.linkCopiedOwn() : linkCopied())

/** The part of a link that names the rig, for the rigs that the page has; the first is the default. */
export const rigField = (rigKeys: readonly string[]): LinkField<string> => ({
  read: wordField(rigKeys, (text) => (isOwnRig(text) ? say.otherDevice() : notOneOf({ words: rigKeys.join(', ') }))),
  default: rigKeys[0] ?? '',
  meaning: 'file name of the rig, or the key of a rig saved on this device',
})
