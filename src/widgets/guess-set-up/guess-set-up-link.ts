import { flagField, wordField } from '../../state/link-fields.ts'
import type { LinkSchema } from '../../state/share-link.ts'
import { type SetUp, setUps } from '../decide/evening-plans.ts'

export type GuessSetUpState = { choice: SetUp | 'none'; shown: boolean }

/** The link of the guess, version 1. */
export const guessSetUpLink: LinkSchema<GuessSetUpState> = {
  name: 'guess-set-up',
  version: 1,
  fields: {
    /** The set-up that is chosen. */
    choice: { read: wordField(['none', ...setUps]), default: 'none' },
    /** Whether the computed levels are shown. */
    shown: { read: flagField, default: false },
  },
}
