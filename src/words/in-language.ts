// What a message of another language than English asks of the browser; src/tools/message-code.mjs writes the calls.
import { digits } from './digits.ts'
import { language } from './language.ts'

const rules = new Intl.PluralRules(language)

/** A message's value: a number in the language's digits, words as they are. */
export const shown = (value: string | number): string => (typeof value === 'number' ? digits(String(value)) : value)

/** The grammatical number that a count takes: 'one', 'other' … */
export const category = (count: number): Intl.LDMLPluralRule => rules.select(count)
