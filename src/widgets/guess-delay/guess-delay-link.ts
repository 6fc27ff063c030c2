import * as v from 'valibot'
import { guessDelaysMs } from '../../engine/questions/steer/steer-guess-terms.ts'
import { type LinkSchema, numberField } from '../../state/share-link.ts'
import { notAStep, notTrueOrFalse } from '../../words/words.messages.ts'

export type GuessDelayState = { delayMs: number; shown: boolean }

const last = guessDelaysMs[guessDelaysMs.length - 1] ?? 0

/** The link of the guess, version 1. */
export const guessDelayLink: LinkSchema<GuessDelayState> = {
  name: 'guess-delay',
  version: 1,
  fields: {
    delayMs: {
      schema: v.pipe(
        numberField(0, last, 'ms'),
        v.check((value) => guessDelaysMs.includes(value), notAStep()),
      ),
      default: 1,
      meaning: 'guessed delay of the rear box',
    },
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
