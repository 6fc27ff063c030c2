import type { Rig } from '../../acoustics/index.ts'
import { enclosedHere, isSent } from '../../state/enclosed-text.ts'
import { wordField } from '../../state/link-fields.ts'
import { notOneOf } from '../../state/share-link.messages.ts'
import type { LinkField } from '../../state/share-link.ts'
import * as say from './rig-choice.messages.ts'

/** A rig as a figure offers it. */
export type RigChoice = { key: string; short: string; description: string; rig: Rig }

/** Whether a rig or a hall is nobody's but the reader's, or the sender's of the link: such a rig is solved on this device. */
export const isOwn = (key: string): boolean => key.startsWith('own-') || isSent(key)

const notAtHand = (key: string, keys: readonly string[], what: 'rig' | 'hall'): string =>
  isSent(key)
    ? say.notCome({ what })
    : isOwn(key)
      ? say.otherDevice({ what })
      : notOneOf({ words: keys.filter((known) => !isOwn(known)).join(', ') })

/** The part of a link that names a rig or a hall out of those at hand. */
const choiceField =
  (keys: readonly string[], usual: string, what: 'rig' | 'hall'): LinkField<string>['read'] =>
  (text) =>
    // Why something enclosed cannot be read is said where what came with the link is shown.
    isSent(text) && !keys.includes(text) && enclosedHere() !== ''
      ? usual
      : wordField(keys, () => notAtHand(text, keys, what))(text)

/**
 * The part of a link that names the rig, for the rigs that the page has; the first is the default: file name of the rig, the key
 * of a rig saved on this device, or the place of one that is enclosed.
 */
export const rigField = (rigKeys: readonly string[]): LinkField<string> => ({
  read: choiceField(rigKeys, rigKeys[0] ?? '', 'rig'),
  default: rigKeys[0] ?? '',
})

/** The part of a link that names a hall, for the halls that the page has. */
export const hallField = (hallKeys: readonly string[], usual: string): LinkField<string> => ({
  read: choiceField(hallKeys, usual, 'hall'),
  default: usual,
})
