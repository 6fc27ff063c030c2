import { digits as inDigits } from './digits.ts'
import { language } from './language.ts'
import * as say from './words.messages.ts'

/** A number for a sentence, whole and with a true minus sign; zero is never signed. */
export const wholeText = (value: number): string => decimalText(value, 0)

/** A number to so many digits after the point, all of them written; a true minus sign, and none before zero. */
export function decimalText(value: number, digits: number): string {
  const text = value.toFixed(digits)
  return inDigits(Number(text) === 0 ? text.replace('-', '') : text)
}

/** The same without zeros at the end: '2.6', '3'. */
export const shortText = (value: number, digits: number): string => inDigits(String(Number(value.toFixed(digits)) + 0))

/** A number to so many significant digits, without zeros at the end: '0.35', '23'. */
export const roundText = (value: number, digits: number): string => inDigits(String(Number(value.toPrecision(digits))))

/** A share as people say it: '25 %'. */
export const percentText = (share: number): string => `${Math.round(100 * share)} %`

/** A probability as people say it: '4 %', 'less than 1 %'; nothing is promised that is not certain. */
export function chanceText(probability: number): string {
  if (probability < 0.005) return say.lessThanOnePercent()
  if (probability > 0.995 && probability < 1) return say.moreThanNinetyNinePercent()
  return percentText(probability)
}

/** A small count in a sentence: 'no', 'one' … 'six', '7'. */
export const countText = (count: number): string => say.smallNumber({ count })

/** Things one after the other: 'a', 'a and b', 'a, b and c'. */
export const listText = (things: readonly string[]): string => new Intl.ListFormat(language).format(things)

/** A text in which no line break parts a number from its unit. */
export const held = (text: string): string =>
  text.replace(/(?<=\d) (?=(?:k?Hz|dB|[cm]?m|ft|in|m?s|m[²³]|m\/s|%|phon)(?!\p{L}))/gu, '\u00a0')
