import type { Rig } from '../../acoustics/index.ts'
import { enclosedHere } from '../../state/enclosed-text.ts'
import { wordField } from '../../state/link-fields.ts'
import type { SavedRig } from '../../state/saved-rigs.ts'
import { notOneOf } from '../../state/share-link.messages.ts'
import type { LinkField } from '../../state/share-link.ts'
import * as say from './rig-choice.messages.ts'

/** A rig as a figure offers it. */
export type RigChoice = { key: string; short: string; description: string; rig: Rig }

/** Whether a rig came with the link. */
const isSentRig = (key: string): boolean => /^sent-\d$/.test(key)

/** Whether a rig is nobody's but the reader's, or the sender's of the link: it is solved on this device. */
export const isOwnRig = (key: string): boolean => key.startsWith('own-') || isSentRig(key)

/** A saved rig, or one that came with the link, as one more choice. */
export const ownRigChoice = ({ key, name, rig }: SavedRig): RigChoice => ({
  key,
  short: isSentRig(key) ? say.sentRig({ name }) : say.myRig({ name }),
  description: isSentRig(key) ? say.cameWithLink({ name }) : say.ownRig({ name }),
  rig,
})

const notAtHand = (key: string, rigKeys: readonly string[]): string =>
  isSentRig(key)
    ? say.notCome()
    : isOwnRig(key)
      ? say.otherDevice()
      : notOneOf({ words: rigKeys.filter((known) => !isOwnRig(known)).join(', ') })

/** The part of a link that names the rig, for the rigs that the page has; the first is the default. */
export const rigField = (rigKeys: readonly string[]): LinkField<string> => ({
  // Why an enclosed rig cannot be read is said where what came with the link is shown.
  read: (text) =>
    isSentRig(text) && !rigKeys.includes(text) && enclosedHere() !== ''
      ? (rigKeys[0] ?? '')
      : wordField(rigKeys, () => notAtHand(text, rigKeys))(text),
  default: rigKeys[0] ?? '',
  meaning: 'file name of the rig, the key of a rig saved on this device, or the place of one that is enclosed',
})
