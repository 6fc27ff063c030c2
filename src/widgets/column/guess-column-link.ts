import * as v from 'valibot'
import { type LinkSchema, numberField } from '../../state/share-link.ts'
import { notTrueOrFalse, notWholeDecibels } from '../../words/words.messages.ts'

/** Range of both guesses, dB re straight in front. */
export const guessColumnRangeDb = { min: -30, max: 6 } as const

export type GuessColumnState = { bassBehindDb: number; aboveDb: number; shown: boolean }

const guess = v.pipe(numberField(guessColumnRangeDb.min, guessColumnRangeDb.max, 'dB'), v.integer(notWholeDecibels()))

/** The link of the guess, version 1. Both start where neither is right. */
export const guessColumnLink: LinkSchema<GuessColumnState> = {
  name: 'guess-column',
  version: 1,
  fields: {
    bassBehindDb: { schema: guess, default: -6, meaning: 'guessed level behind at 100 Hz, dB re in front' },
    aboveDb: { schema: guess, default: -6, meaning: 'guessed level 30° above at 1 kHz, dB re in front' },
    shown: {
      schema: v.pipe(
        v.picklist(['true', 'false'], notTrueOrFalse()),
        v.transform((text) => text === 'true'),
      ),
      default: false,
      meaning: 'whether the computed levels are shown',
    },
  },
}
