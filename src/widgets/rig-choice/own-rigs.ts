import { isSent } from '../../state/enclosed-text.ts'
import type { SavedRig } from '../../state/saved-rigs.ts'
import * as say from './own-things.messages.ts'
import type { RigChoice } from './rig-choice.ts'

/** A saved rig, or one that came with the link, as one more choice: fetched where there are any. */
export const ownRigChoice = ({ key, name, rig }: SavedRig): RigChoice => ({
  key,
  short: isSent(key) ? say.sentRig({ name }) : say.myRig({ name }),
  description: isSent(key) ? say.cameWithLink({ name }) : say.ownRig({ name }),
  rig,
})
