import type { ColumnFact } from '../../engine/questions/column/column-facts.ts'
import { frequencyText } from '../../words/frequencies.ts'
import { downWords } from '../../words/levels.ts'
import { wavesText } from './describe-column.ts'

/**
 * A fact of the lesson on columns as the text writes it, with its unit held to it: whole decibels ('14 dB', or in words
 * '14 dB down'), frequencies to two digits, whole degrees, wavelengths as the figure writes them.
 */
export function columnFactText({ value, unit }: ColumnFact, inWords = false): string {
  const held = (text: string) => text.replaceAll(' dB', '\u00a0dB')
  if (unit === 'dB') return held(inWords ? downWords(-value) : `${Math.round(value)} dB`)
  if (unit === 'Hz') return frequencyText(Number(value.toPrecision(2))).replace(' ', '\u00a0')
  if (unit === '°') return `${Math.round(value)}°`
  return wavesText(value)
}
