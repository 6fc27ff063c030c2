import type { EarFact } from '../../engine/questions/ear/ear-facts.ts'
import { wholeText } from '../../words/numbers.ts'
import { percentText, sonesText } from './describe-heard.ts'

/** A part of the loudness that is left, as people say it: the nearest of a few plain fractions. */
export function partText(part: number): string {
  const fractions: [number, string][] = [
    [0.25, 'a quarter'],
    [1 / 3, 'a third'],
    [0.5, 'half'],
    [2 / 3, 'two thirds'],
    [0.75, 'three quarters'],
  ]
  const [value, words] = fractions.reduce((best, next) =>
    Math.abs(next[0] - part) < Math.abs(best[0] - part) ? next : best,
  )
  return Math.abs(value - part) < 0.02 ? words : `about ${words}`
}

/** A fact of the lesson on hearing as the text writes it, with its unit held to it. */
export function earFactText({ value, unit }: EarFact): string {
  if (unit === '%') return percentText(value / 100).replace(' ', '\u00a0')
  if (unit === 'sone') return sonesText(value)
  if (unit === 'times') return partText(value)
  return `${wholeText(value)}\u00a0${unit}`
}
