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
    guess: { read: wordField(loudnessGuesses), default: 'none', meaning: 'which tone is said to lose more' },
    shown: {
      read: flagField,
      default: false,
      meaning: 'whether the computed answer is shown',
    },
  },
}
