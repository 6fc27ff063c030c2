import * as v from 'valibot'
import type { LinkSchema } from '../../state/share-link.ts'
import { notTrueOrFalse } from '../../words/words.messages.ts'
import * as say from './guess-rear.messages.ts'

/** The third octaves that a reader guesses at, nominal, Hz. */
export const guessedHz = [63, 125, 250, 500, 1000, 2000, 4000, 8000] as const

/** Range of a guess, dB re the front's average. */
export const guessRangeDb = { min: -48, max: 12 } as const

export type GuessRearState = { guessDb: number[]; shown: boolean }

/** The link of the guess, version 1. */
export const guessRearLink: LinkSchema<GuessRearState> = {
  name: 'guess',
  version: 1,
  fields: {
    guessDb: {
      schema: v.pipe(
        v.string(),
        v.transform((text) => text.split(',').map(Number)),
        v.array(v.pipe(v.number(say.notALevel()), v.minValue(guessRangeDb.min), v.maxValue(guessRangeDb.max))),
        v.length(guessedHz.length, say.notSoManyLevels({ count: guessedHz.length })),
      ),
      default: guessedHz.map(() => 0),
      meaning: 'guessed levels behind, dB, from the lowest frequency to the highest',
    },
    shown: {
      schema: v.pipe(
        v.picklist(['true', 'false'], notTrueOrFalse()),
        v.transform((text) => text === 'true'),
      ),
      default: false,
      meaning: 'whether the computed line is shown',
    },
  },
}
