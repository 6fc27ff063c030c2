import type { EarFact } from '../../engine/questions/ear/ear-facts.ts'
import { partText, sonesText } from '../../words/loudness.ts'
import { percentText, wholeText } from '../../words/numbers.ts'

/** A fact of the lesson on hearing as the text writes it, with its unit held to it. */
export function earFactText({ value, unit }: EarFact): string {
  if (unit === '%') return percentText(value / 100).replace(' ', '\u00a0')
  if (unit === 'sone') return sonesText(value)
  if (unit === 'times') return partText(value)
  return `${wholeText(value)}\u00a0${unit}`
}
