import { check, checked, flagField, numberField } from '../../state/link-fields.ts'
import type { LinkSchema } from '../../state/share-link.ts'
import { notWholeDecibels } from '../../words/words.messages.ts'

/** Range of both guesses, dB re straight in front. */
export const guessColumnRangeDb = { min: -30, max: 6 } as const

export type GuessColumnState = { bassBehindDb: number; aboveDb: number; shown: boolean }

const guess = checked(
  numberField(guessColumnRangeDb.min, guessColumnRangeDb.max, 'dB'),
  check(Number.isInteger, notWholeDecibels()),
)

/** The link of the guess, version 1. Both start where neither is right. */
export const guessColumnLink: LinkSchema<GuessColumnState> = {
  name: 'guess-column',
  version: 1,
  fields: {
    /** Guessed level behind at 100 Hz, dB re in front. */
    bassBehindDb: { read: guess, default: -6 },
    /** Guessed level 30° above at 1 kHz, dB re in front. */
    aboveDb: { read: guess, default: -6 },
    /** Whether the computed levels are shown. */
    shown: {
      read: flagField,
      default: false,
    },
  },
}
