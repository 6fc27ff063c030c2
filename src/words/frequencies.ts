import { digits } from './digits.ts'
import { shortText } from './numbers.ts'
import * as say from './words.messages.ts'

/** A frequency in Hz with the digits that it has. */
const written = (frequencyHz: number): string => digits(String(frequencyHz))

/** A nominal frequency as an axis writes it: '31.5', '125', '1 k'. */
export const frequencyTick = (frequencyHz: number): string =>
  frequencyHz >= 1000 ? `${shortText(frequencyHz / 1000, 2)} k` : written(frequencyHz)

/** A nominal frequency in a sentence or label: '80 Hz', '2 kHz'. */
export const frequencyText = (frequencyHz: number): string =>
  frequencyHz >= 1000 ? `${shortText(frequencyHz / 1000, 2)} kHz` : `${written(frequencyHz)} Hz`

/** A computed frequency for a sentence, to so many significant digits: '430 Hz', '2.1 kHz'. */
export const aboutFrequencyText = (frequencyHz: number, digits = 2): string =>
  frequencyText(Number(frequencyHz.toPrecision(digits)))

/** A computed frequency to the whole Hz below 100 Hz, to 5 Hz above: '33 Hz', '165 Hz'. */
export const dipFrequencyText = (frequencyHz: number): string =>
  frequencyText(frequencyHz < 100 ? Math.round(frequencyHz) : 5 * Math.round(frequencyHz / 5))

/** A frequency to a tenth of a hertz: '41.3 Hz'. */
export const fineFrequencyText = (frequencyHz: number): string => `${shortText(frequencyHz, 1)} Hz`

/** A band, to the whole Hz: '38 to 92 Hz'. */
export const bandText = ({ fromHz, toHz }: { fromHz: number; toHz: number }): string =>
  say.fromTo({ from: Math.round(fromHz), to: Math.round(toHz), unit: 'Hz' })

/** A range of nominal frequencies: '40 to 160 Hz', '2 to 16 kHz'. */
export function frequencyRangeText({ from, to }: { from: number; to: number }): string {
  if (from < 1000 && to >= 1000)
    return say.fromTo({ from: frequencyText(from), to: frequencyText(to), unit: '' }).trim()
  const thousands = from >= 1000 ? 1000 : 1
  return say.fromTo({ from: from / thousands, to: to / thousands, unit: from >= 1000 ? 'kHz' : 'Hz' })
}

/** A ratio of frequencies in thirds of an octave, without its sign: 'one octave', 'two thirds of an octave', '1⅓ octaves'. */
export function octaveWords(ratio: number): string {
  const thirds = Math.abs(Math.round(3 * Math.log2(ratio)))
  return say.octaves({ thirds, number: `${Math.floor(thirds / 3)}${['', '⅓', '⅔'][thirds % 3]}` })
}

/** The octave mid-bands that every frequency axis of the site shows. */
export const frequencyTicks = [31.5, 63, 125, 250, 500, 1000, 2000, 4000, 8000, 16000]
