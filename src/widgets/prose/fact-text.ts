import type { LengthUnit } from '../../state/preferences.ts'
import { aboutFrequencyText, dipFrequencyText, octaveWords } from '../../words/frequencies.ts'
import { fineLengthText, lengthText, tapeText, waveLengthText } from '../../words/lengths.ts'
import { downWords } from '../../words/levels.ts'
import { partText, sonesText } from '../../words/loudness.ts'
import { decimalText, held, percentText, roundText, shortText, wholeText } from '../../words/numbers.ts'
import * as say from './prose.messages.ts'

/** A number that the words of a page need. Lengths are not text here: they show in the reader's unit. */
export type Fact = { value: number; unit: string }

/** How an author may have a number written where the usual way does not fit. */
export type FactForm = {
  /** A level with its way in words: '3 dB down', 'unchanged'. */
  inWords?: boolean | undefined
  /** Digits after the point. */
  digits?: number | undefined
  /** Significant digits. */
  significant?: number | undefined
}

/** How a length may be written where the usual way does not fit. */
export type LengthForm = {
  /** A length to the centimetre, not to 5 cm. */
  exact?: boolean | undefined
  /** A length that is laid out with a tape: '1.35 m', '4 ft 5 in'. */
  tape?: boolean | undefined
}

/** A fact as the text writes it in either unit of length; undefined for one that is the same in both. */
export function factInUnits(
  question: string,
  { value, unit }: Fact,
  { exact, tape }: LengthForm = {},
): ((units: LengthUnit) => string) | undefined {
  if (unit === 'Hz·m') return (units) => roundText(units === 'ft' ? value / 0.3048 : value, 3)
  if (unit !== 'm') return undefined
  if (question === 'box') return (units) => waveLengthText(value, units)
  if (tape) return (units) => tapeText(value, units)
  return (units) => (exact ? fineLengthText : lengthText)(value, units)
}

type Text = (value: number) => string

/** How a unit is written, if not as a whole number with the unit behind it. */
const usual: Record<string, Text> = {
  '%': (value) => percentText(value / 100),
  '°': (value) => `${wholeText(value)}°`,
  '1': wholeText,
  // A constant, in hundreds, with a thin space: '23 800'.
  'm ° Hz': (value) => String(Math.round(value / 100) * 100).replace(/(\d)(\d{3})$/, '$1\u202f$2'),
  ms: (value) => `${decimalText(value, 1)} ms`,
  octaves: (value) => octaveWords(2 ** value),
  s: (value) => `${decimalText(value, 1)} s`,
  sone: sonesText,
}

/** What a question's facts need otherwise: how finely its frequencies are known, and what its multiples count. */
const otherwise: Record<string, Record<string, Text>> = {
  box: { Hz: aboutFrequencyText, times: (value) => shortText(value, 1) },
  column: { Hz: aboutFrequencyText, '1': (value) => shortText(value, value >= 9.95 ? 0 : 1) },
  ear: { times: partText },
  horn: { Hz: aboutFrequencyText, '1': (value) => roundText(value, 2) },
  steer: {
    times: (value) => say.times({ number: decimalText(value, 1) }),
    'm²': (value) => `${decimalText(value, 1)} m²`,
  },
  wall: {
    Hz: dipFrequencyText,
    times: (value) => say.times({ number: wholeText(value) }),
    ms: (value) => `${wholeText(value)} ms`,
  },
}

/**
 * A fact as the text writes it, its unit held to it: whole decibels, hertz and metres per second, seconds and milliseconds to the
 * tenth, frequencies as finely as the question knows them. Lengths are the page's to write.
 *
 * @param question  the fact's question, the first word of its name
 */
export function factText(question: string, { value, unit }: Fact, form: FactForm = {}): string {
  return held(textOf(question, { value, unit }, form))
}

function textOf(question: string, { value, unit }: Fact, { inWords, digits, significant }: FactForm): string {
  if (inWords) return downWords(-value)
  if (significant !== undefined)
    return unit === 'Hz' ? aboutFrequencyText(value, significant) : withUnit(roundText(value, significant), unit)
  if (digits !== undefined) return withUnit(decimalText(value, digits), unit)
  return (otherwise[question]?.[unit] ?? usual[unit])?.(value) ?? withUnit(wholeText(value), unit)
}

const withUnit = (number: string, unit: string): string => (unit === '1' ? number : `${number} ${unit}`)
