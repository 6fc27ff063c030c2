import { check, checked, flagField, numberField } from '../../state/link-fields.ts'
import type { LinkSchema } from '../../state/share-link.ts'
import { notThirdOctave } from '../../words/words.messages.ts'

/** The frequencies that a reader guesses among: nominal third octaves, Hz. */
export const guessHornHz = [
  31.5, 40, 50, 63, 80, 100, 125, 160, 200, 250, 315, 400, 500, 630, 800, 1000, 1250, 1600, 2000, 2500, 3150, 4000,
  5000, 6300, 8000,
] as const

export type GuessHornState = { guessHz: number; shown: boolean }

/** The link of the guess, version 1. */
export const guessHornLink: LinkSchema<GuessHornState> = {
  name: 'guess-horn',
  version: 1,
  fields: {
    /** Guessed frequency down to which the horn keeps its angle. */
    guessHz: {
      read: checked(
        numberField(31.5, 8000, 'Hz'),
        check((value) => guessHornHz.some((known) => known === value), notThirdOctave()),
      ),
      default: 125,
    },
    /** Whether the computed frequency is shown. */
    shown: {
      read: flagField,
      default: false,
    },
  },
}
