import { check, checked, flagField, numberField } from '../../state/link-fields.ts'
import type { LinkSchema } from '../../state/share-link.ts'
import { notWholeDecibels } from '../../words/words.messages.ts'
import { guessColumnRangeDb } from '../column/guess-column-link.ts'

export type GuessHallState = { bareDb: number; curtainsDb: number; shown: boolean }

const guess = checked(
  numberField(guessColumnRangeDb.min, guessColumnRangeDb.max, 'dB'),
  check(Number.isInteger, notWholeDecibels()),
)

/** The link of the guess, version 1. Both start where neither is right. */
export const guessHallLink: LinkSchema<GuessHallState> = {
  name: 'guess-hall',
  version: 1,
  fields: {
    /** Guessed treble behind in the bare hall, dB re in front. */
    bareDb: { read: guess, default: -24 },
    /** Guessed treble behind with curtains, dB re in front. */
    curtainsDb: { read: guess, default: -24 },
    /** Whether the computed levels are shown. */
    shown: {
      read: flagField,
      default: false,
    },
  },
}
