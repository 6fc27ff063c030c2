import type { HornFact } from '../../engine/questions/horn/horn-facts.ts'
import { aboutFrequencyText } from '../../words/frequencies.ts'
import { wholeText } from '../../words/numbers.ts'

/**
 * A fact of the lesson on horns as the text writes it, with its unit held to it: frequencies to so many significant
 * digits, a constant in hundreds with a thin space ('23 800'), angles and decibels whole, plain numbers to two digits.
 */
export function hornFactText({ value, unit }: HornFact, digits = 2): string {
  if (unit === 'Hz') return aboutFrequencyText(value, digits).replace(' ', '\u00a0')
  if (unit === 'm ° Hz') {
    const hundreds = String(Math.round(value / 100) * 100)
    return hundreds.replace(/(\d)(\d{3})$/, '$1\u202f$2')
  }
  if (unit === '°') return `${wholeText(value)}°`
  if (unit === '1') return String(Number(value.toPrecision(digits)))
  return `${wholeText(value)}\u00a0${unit}`
}
