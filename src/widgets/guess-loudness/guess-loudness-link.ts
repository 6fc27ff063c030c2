import * as v from 'valibot'
import { type LinkSchema, wordField } from '../../state/share-link.ts'
import { notTrueOrFalse } from '../../words/words.messages.ts'

export const loudnessGuesses = ['none', 'low', 'high', 'same'] as const
export type LoudnessGuess = (typeof loudnessGuesses)[number]
export type GuessLoudnessState = { guess: LoudnessGuess; shown: boolean }

/** The link of the guess, version 1. */
export const guessLoudnessLink: LinkSchema<GuessLoudnessState> = {
  name: 'guess-loudness',
  version: 1,
  fields: {
    guess: { schema: wordField(loudnessGuesses), default: 'none', meaning: 'which tone is said to lose more' },
    shown: {
      schema: v.pipe(
        v.picklist(['true', 'false'], notTrueOrFalse()),
        v.transform((text) => text === 'true'),
      ),
      default: false,
      meaning: 'whether the computed answer is shown',
    },
  },
}
