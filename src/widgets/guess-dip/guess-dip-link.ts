import * as v from 'valibot'
import { wallFrequenciesHz } from '../../engine/questions/wall/wall-terms.ts'
import { type LinkSchema, numberField } from '../../state/share-link.ts'
import { notAStep, notTrueOrFalse } from '../../words/words.messages.ts'

export type GuessDipState = { guessHz: number; shown: boolean }

/** The link of the guess, version 2: version 1 began at another mark. */
export const guessDipLink: LinkSchema<GuessDipState> = {
  name: 'guess-dip',
  version: 2,
  unsaid: { 1: { guessHz: 50 } },
  fields: {
    guessHz: {
      schema: v.pipe(
        numberField(25, 250, 'Hz'),
        v.check((value) => wallFrequenciesHz.includes(value), notAStep()),
      ),
      default: 74,
      meaning: 'guessed frequency that the wall cancels in front',
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
