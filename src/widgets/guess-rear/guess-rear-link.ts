import { type FieldReader, flagField, numberField, Refused } from '../../state/link-fields.ts'
import type { LinkSchema } from '../../state/share-link.ts'
import * as say from './guess-rear.messages.ts'

/** The third octaves that a reader guesses at, nominal, Hz. */
export const guessedHz = [63, 125, 250, 500, 1000, 2000, 4000, 8000] as const

/** Range of a guess, dB re the front's average. */
export const guessRangeDb = { min: -48, max: 12 } as const

const levelField = numberField(guessRangeDb.min, guessRangeDb.max, 'dB')

export type GuessRearState = { guessDb: number[]; shown: boolean }

/** Reads the levels out of a link, in the order of their frequencies. */
const readLevels: FieldReader<number[]> = (text) => {
  const levels = text.split(',').map(levelField)
  if (levels.length !== guessedHz.length) return new Refused(say.notSoManyLevels({ count: guessedHz.length }))
  return levels.find((level) => level instanceof Refused) ?? (levels as number[])
}

/** The link of the guess, version 1. */
export const guessRearLink: LinkSchema<GuessRearState> = {
  name: 'guess',
  version: 1,
  fields: {
    /** Guessed levels behind, dB, from the lowest frequency to the highest. */
    guessDb: {
      read: readLevels,
      default: guessedHz.map(() => 0),
    },
    /** Whether the computed line is shown. */
    shown: {
      read: flagField,
      default: false,
    },
  },
}
