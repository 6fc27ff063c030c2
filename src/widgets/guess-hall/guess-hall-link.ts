import * as v from 'valibot'
import { type LinkSchema, numberField } from '../../state/share-link.ts'
import { notTrueOrFalse, notWholeDecibels } from '../../words/words.messages.ts'
import { guessColumnRangeDb } from '../column/guess-column-link.ts'

export type GuessHallState = { bareDb: number; curtainsDb: number; shown: boolean }

const guess = v.pipe(numberField(guessColumnRangeDb.min, guessColumnRangeDb.max, 'dB'), v.integer(notWholeDecibels()))

/** The link of the guess, version 1. Both start where neither is right. */
export const guessHallLink: LinkSchema<GuessHallState> = {
  name: 'guess-hall',
  version: 1,
  fields: {
    bareDb: { schema: guess, default: -24, meaning: 'guessed treble behind in the bare hall, dB re in front' },
    curtainsDb: { schema: guess, default: -24, meaning: 'guessed treble behind with curtains, dB re in front' },
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
