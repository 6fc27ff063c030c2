import { guessDelaysMs } from '../../engine/questions/steer/steer-guess-terms.ts'
import { check, checked, flagField, numberField } from '../../state/link-fields.ts'
import type { LinkSchema } from '../../state/share-link.ts'
import { notAStep } from '../../words/words.messages.ts'

export type GuessDelayState = { delayMs: number; shown: boolean }

const last = guessDelaysMs[guessDelaysMs.length - 1] ?? 0

/** The link of the guess, version 1. */
export const guessDelayLink: LinkSchema<GuessDelayState> = {
  name: 'guess-delay',
  version: 1,
  fields: {
    delayMs: {
      read: checked(
        numberField(0, last, 'ms'),
        check((value) => guessDelaysMs.includes(value), notAStep()),
      ),
      default: 1,
      meaning: 'guessed delay of the rear box',
    },
    shown: {
      read: flagField,
      default: false,
      meaning: 'whether the computed answer is shown',
    },
  },
}
