import { flagField, numberField } from '../../state/link-fields.ts'
import type { LinkSchema } from '../../state/share-link.ts'

/** Range of the guess, Hz, and its steps for each octave. */
export const guessRangeHz = { min: 31.5, max: 4000, stepsPerOctave: 6 } as const

export type GuessShadowState = { guessHz: number; shown: boolean }

/** The link of the guess, version 1. */
export const guessShadowLink: LinkSchema<GuessShadowState> = {
  name: 'guess-shadow',
  version: 1,
  fields: {
    /** Guessed frequency from which the box casts a shadow. */
    guessHz: {
      read: numberField(guessRangeHz.min, guessRangeHz.max, 'Hz'),
      default: 100,
    },
    /** Whether the computed answer is shown. */
    shown: {
      read: flagField,
      default: false,
    },
  },
}

/** Number of the slider's last step; the first is 0. */
export const lastGuessStep = Math.round(guessRangeHz.stepsPerOctave * Math.log2(guessRangeHz.max / guessRangeHz.min))

/** A guess as a step of the slider. */
export const guessStep = (guessHz: number): number =>
  Math.round(guessRangeHz.stepsPerOctave * Math.log2(guessHz / guessRangeHz.min))

/** The frequency of a step, Hz, to two digits, within the range. */
export function guessOfStep(step: number): number {
  const inside = Math.max(0, Math.min(lastGuessStep, step))
  const frequencyHz = guessRangeHz.min * 2 ** (inside / guessRangeHz.stepsPerOctave)
  return Math.max(guessRangeHz.min, Math.min(guessRangeHz.max, Number(frequencyHz.toPrecision(2))))
}

/** Every guess that the slider has, Hz. */
export const guessesHz: readonly number[] = Array.from({ length: lastGuessStep + 1 }, (_, step) => guessOfStep(step))
