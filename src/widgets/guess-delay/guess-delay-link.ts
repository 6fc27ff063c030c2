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
    /** Guessed delay of the rear box. */
    delayMs: {
      read: checked(
        numberField(0, last, 'ms'),
        check((value) => guessDelaysMs.includes(value), notAStep()),
      ),
      default: 1,
    },
    /** Whether the computed answer is shown. */
    shown: {
      read: flagField,
      default: false,
    },
  },
}
