import type { WallFact } from '../../engine/questions/wall/wall-facts.ts'
import { dipFrequencyText } from '../../words/frequencies.ts'
import { wholeText } from '../../words/numbers.ts'

/**
 * A fact of the lesson on the wall as the text writes it, with its unit held to it: whole decibels and milliseconds,
 * frequencies to the whole Hz below 100 Hz and to 5 Hz above; `digits` after the point where whole is too coarse.
 */
export function wallFactText({ value, unit }: WallFact, digits = 0): string {
  if (digits > 0) return `${value.toFixed(digits)}\u00a0${unit}`
  if (unit === 'Hz') return dipFrequencyText(value).replace(' ', '\u00a0')
  if (unit === 'times') return `${wholeText(value)} times`
  return `${wholeText(value)}\u00a0${unit}`
}
