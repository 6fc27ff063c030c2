import * as say from './share-link.messages.ts'

/** What a field of a link says of a text that it cannot use. */
export class Refused {
  readonly reason: string
  constructor(reason: string) {
    this.reason = reason
  }
}

/** Reads the text of one field out of an address: its value, or why it cannot be one. Never throws. */
export type FieldReader<T> = (text: string) => T | Refused

/** One condition on what a field gave: whether it holds, and what is said if not. */
export type FieldCheck<T> = { holds: (value: T) => boolean; reason: string }

const numberForm = /^[-+]?(\d+\.?\d*|\.\d+)$/

/**
 * Reads a number with bounds. The bounds are part of the message.
 *
 * @param unit  a symbol, or one of the words that the messages know; '' for none
 */
export function numberField(min: number, max: number, unit: string): FieldReader<number> {
  const bounds = { min, max, unit: unit || 'none' }
  return (text) => {
    if (!numberForm.test(text)) return new Refused(say.notANumber(bounds))
    // −0 is written and compared like 0, but not divided by.
    const value = Number(text) + 0
    return value >= min && value <= max ? value : new Refused(say.outside(bounds))
  }
}

/**
 * Reads one of some words.
 *
 * @param otherwise  what is said of another word; without it, which words there are
 */
export const wordField =
  <const W extends string>(
    words: readonly W[],
    otherwise: (text: string) => string = () => say.notOneOf({ words: words.join(', ') }),
  ): FieldReader<W> =>
  (text) =>
    words.find((word) => word === text) ?? new Refused(otherwise(text))

/** Reads true or false. */
export const flagField: FieldReader<boolean> = (text) =>
  text === 'true' || text === 'false' ? text === 'true' : new Refused(say.notTrueOrFalse())

/** Takes any text, for a field whose form is a matter of `checked`. */
export const textField: FieldReader<string> = (text) => text

/** A condition for `checked`. */
export const check = <T>(holds: (value: T) => boolean, reason: string): FieldCheck<T> => ({ holds, reason })

/** What `reader` reads, if it passes all checks; the first that fails says why. */
export const checked =
  <T>(reader: FieldReader<T>, ...checks: FieldCheck<T>[]): FieldReader<T> =>
  (text) => {
    const value = reader(text)
    if (value instanceof Refused) return value
    const failed = checks.find(({ holds }) => !holds(value))
    return failed ? new Refused(failed.reason) : value
  }
