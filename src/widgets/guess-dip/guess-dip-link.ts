import { wallFrequenciesHz } from '../../engine/questions/wall/wall-terms.ts'
import { check, checked, flagField, numberField } from '../../state/link-fields.ts'
import type { LinkSchema } from '../../state/share-link.ts'
import { notAStep } from '../../words/words.messages.ts'

export type GuessDipState = { guessHz: number; shown: boolean }

/** The link of the guess, version 2: version 1 began at another mark. */
export const guessDipLink: LinkSchema<GuessDipState> = {
  name: 'guess-dip',
  version: 2,
  unsaid: { 1: { guessHz: 50 } },
  fields: {
    /** Guessed frequency that the wall cancels in front. */
    guessHz: {
      read: checked(
        numberField(25, 250, 'Hz'),
        check((value) => wallFrequenciesHz.includes(value), notAStep()),
      ),
      default: 74,
    },
    /** Whether the computed answer is shown. */
    shown: {
      read: flagField,
      default: false,
    },
  },
}
