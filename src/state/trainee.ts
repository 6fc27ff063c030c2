import { inTurn } from './in-turn.ts'
import { keepText, onKeptChange, storedText } from './kept-text.ts'

// The name on the sign-off sheet. It is kept on the device and in a file that the reader saves, and never in a link.

const traineeKey = 'round-the-back.trainee'
export const longestTrainee = 80

/** A name as it is kept: no line breaks or other control characters, no blanks at its ends, no longer than longestTrainee. */
export const cleanName = (text: string): string =>
  [...text.replaceAll(/[\p{Cc}\p{Zl}\p{Zp}]+/gu, ' ').trim()].slice(0, longestTrainee).join('').trim()

/** The name that this device keeps, or ''. Never throws. */
export const keptTrainee = (): string => cleanName(storedText(traineeKey) ?? '')

/**
 * Keeps a name, in turn with other tabs. Never rejects.
 *
 * @returns  whether it is kept
 */
export const keepTrainee = (name: string): Promise<boolean> =>
  inTurn(traineeKey, () => keepText(traineeKey, cleanName(name), null) === '')

/** Calls `listener` when another tab has changed the name; returns the function that ends it. */
export const onTraineeChange = (listener: () => void): (() => void) => onKeptChange(traineeKey, listener)
