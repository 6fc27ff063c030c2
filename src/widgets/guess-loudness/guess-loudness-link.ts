import { flagField, wordField } from '../../state/link-fields.ts'
import type { LinkSchema } from '../../state/share-link.ts'

export const loudnessGuesses = ['none', 'low', 'high', 'same'] as const
export type LoudnessGuess = (typeof loudnessGuesses)[number]
export type GuessLoudnessState = { guess: LoudnessGuess; shown: boolean }

/** The link of the guess, version 1. */
export const guessLoudnessLink: LinkSchema<GuessLoudnessState> = {
  name: 'guess-loudness',
  version: 1,
  fields: {
    /** Which tone is said to lose more. */
    guess: { read: wordField(loudnessGuesses), default: 'none' },
    /** Whether the computed answer is shown. */
    shown: {
      read: flagField,
      default: false,
    },
  },
}
