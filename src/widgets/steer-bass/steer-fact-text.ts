import type { SteerFact } from '../../engine/questions/steer/steer-facts.ts'
import { wholeText } from '../../words/numbers.ts'

/**
 * A fact of the lesson on steered bass as the text writes it, with its unit held to it: whole decibels and hertz, milliseconds to the
 * tenth, square metres and factors to the tenth; `digits` after the point where that is not right. Lengths are the page's to write.
 */
export function steerFactText({ value, unit }: SteerFact, digits = usualDigits(unit)): string {
  const number = digits > 0 ? value.toFixed(digits).replace('-', '−') : wholeText(value)
  return unit === 'times' ? `${number} times` : `${number}\u00a0${unit}`
}

const usualDigits = (unit: SteerFact['unit']): number => (unit === 'ms' || unit === 'm²' || unit === 'times' ? 1 : 0)
