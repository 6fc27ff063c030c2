import type { HallFact } from '../../engine/questions/hall/hall-facts.ts'
import { wholeText } from '../../words/numbers.ts'

/**
 * A fact of the lesson on halls as the text writes it, with its unit held to it: whole numbers, seconds to the tenth; `digits`
 * after the point where that is too coarse.
 */
export function hallFactText({ value, unit }: HallFact, digits = unit === 's' ? 1 : 0): string {
  const number = digits > 0 ? value.toFixed(digits).replace('-', '−') : wholeText(value)
  return unit === '1' ? number : `${number}\u00a0${unit}`
}
