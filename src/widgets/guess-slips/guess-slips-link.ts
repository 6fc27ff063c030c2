import { check, checked, flagField, numberField } from '../../state/link-fields.ts'
import type { LinkSchema } from '../../state/share-link.ts'
import { notWholeDecibels } from '../../words/words.messages.ts'

/** How far the worst of the slips puts the answer off: range of both guesses, dB. */
export const guessSlipsRangeDb = { min: 0, max: 30 } as const

export type GuessSlipsState = { bassDb: number; trebleDb: number; shown: boolean }

const guess = checked(
  numberField(guessSlipsRangeDb.min, guessSlipsRangeDb.max, 'dB'),
  check(Number.isInteger, notWholeDecibels()),
)

/** The link of the guess, version 1. Both start where neither is right. */
export const guessSlipsLink: LinkSchema<GuessSlipsState> = {
  name: 'guess-slips',
  version: 1,
  fields: {
    /** Guessed error of the worst slip in the bass. */
    bassDb: { read: guess, default: 1 },
    /** Guessed error of the worst slip in the treble. */
    trebleDb: { read: guess, default: 1 },
    /** Whether the computed errors are shown. */
    shown: { read: flagField, default: false },
  },
}
