import type { LengthUnit } from '../state/preferences.ts'
import { tapeText } from './lengths.ts'
import { shortText } from './numbers.ts'
import { sizeNumber, sizeText, sizeUnit } from './sizes.ts'
import { unitNames } from './unit-names.ts'
import * as say from './words.messages.ts'

/**
 * How a quantity is typed: what its field shows, what it reads, and how it is told. Inside all is in the unit that the
 * owner keeps (m, s, Hz, dB, degrees), and reading what was written gives the value back, to the digits that are written.
 */
export type Measure = {
  kind: 'length' | 'angle' | 'level' | 'time' | 'frequency' | 'number'
  /** What stands beside the field: the unit of a bare number; '' where the text carries its own. */
  unit: string
  /** The value as the field shows it, without `unit`; '' for what is no number. */
  write: (value: number) => string
  /** The value of a text, or NaN for one that is none. */
  read: (text: string) => number
  /** The value with its unit, for a sentence. */
  tell: (value: number) => string
}

const inch = 0.0254
const lengthUnits = {
  mm: 0.001,
  millimetre: 0.001,
  millimeter: 0.001,
  cm: 0.01,
  centimetre: 0.01,
  centimeter: 0.01,
  m: 1,
  metre: 1,
  meter: 1,
  in: inch,
  inch: inch,
  inches: inch,
  '"': inch,
  ft: 12 * inch,
  foot: 12 * inch,
  feet: 12 * inch,
  "'": 12 * inch,
}
const timeUnits = { s: 1, sec: 1, second: 1, ms: 1e-3, millisecond: 1e-3, us: 1e-6, µs: 1e-6, μs: 1e-6 }
const frequencyUnits = { hz: 1, hertz: 1, khz: 1000, k: 1000 }
const levelUnits = { db: 1, decibel: 1, 'db(a)': 1, dba: 1 }
const angleUnits = { '°': 1, deg: 1, degree: 1 }

const fractions: Record<string, string> = { '½': '1/2', '¼': '1/4', '¾': '3/4' }

/** A text with one sign for each meaning: point, minus, inch, foot, and units named in the language of the site. */
const plain = (text: string): string =>
  text
    .normalize('NFC')
    .trim()
    .toLowerCase()
    .replaceAll(/\p{L}+/gu, (name) => unitNames[name] ?? name)
    .replaceAll(',', '.')
    .replaceAll(/[−–]/g, '-')
    .replaceAll(/''|[”″]/g, '"')
    .replaceAll(/[’′]/g, "'")
    .replaceAll(/[½¼¾]/g, (sign) => ` ${fractions[sign]}`)
    .replaceAll(/\s+/g, ' ')
    .trim()

const number = String.raw`\d{1,9}(?:\.\d*)?(?: \d{1,3}/\d{1,3})?|\.\d+|\d{1,3}/\d{1,3}`

/** A number without its sign: '12', '.5', '12 1/2', '1/2'. */
function numberOf(text: string): number {
  const parts = text.split(' ').map((part) => {
    const [above = '', below] = part.split('/')
    return below === undefined ? Number(above) : Number(above) / Number(below)
  })
  const sum = parts.reduce((total, part) => total + part, 0)
  return Number.isFinite(sum) ? sum : Number.NaN
}

/** One number with or without a unit, in the unit that has factor 1; NaN for any other text. `bare` is the factor of a number alone. */
export function oneNumber(text: string, units: Readonly<Record<string, number>>, bare: number): number {
  const found = new RegExp(`^([-+]?)(${number})(?:\\s?(\\D*))?$`).exec(plain(text))
  if (!found) return Number.NaN
  const [, sign, digits = '', unit = ''] = found
  const name = unit.trim()
  const factor = name === '' ? bare : (units[name] ?? units[name.replace(/s$/, '')])
  return (sign === '-' ? -1 : 1) * numberOf(digits) * (factor ?? Number.NaN)
}

/**
 * A length as people write it, m: '135 cm', '1.35 m', '1350 mm', '53 in', '4 ft 5 in', 1'6", '12 1/2"'. A comma is a point.
 *
 * @param bareM  the unit of a bare number, m
 * @returns      metres, or NaN for a text that is no length
 */
export function readLengthM(text: string, bareM: number): number {
  const both = new RegExp(`^([-+]?)(\\d{1,9}) ?(?:ft|foot|feet|') ?(${number}) ?(?:in|inch|inches|")?$`).exec(
    plain(text),
  )
  if (!both) return toGrain(oneNumber(text, lengthUnits, bareM))
  const [, sign, feet, inches = ''] = both
  return toGrain((sign === '-' ? -1 : 1) * (Number(feet) * 12 + numberOf(inches)) * inch)
}

/** Lengths are kept to a tenth of a millimetre, which is what a link carries; what is no number stays none. */
const toGrain = (lengthM: number): number => Number(lengthM.toFixed(4))

/** A number of digits as a field shows it; '' for what is no number. */
const digitsOf = (value: number, digits: number): string => (Number.isFinite(value) ? shortText(value, digits) : '')

/** A distance that is laid out with a tape, m: '1.35' in metres, '4 ft 5 in' in feet, where a bare number is in feet. */
export const tapeMeasure = (units: LengthUnit): Measure => ({
  kind: 'length',
  unit: units === 'ft' ? '' : 'm',
  write: (lengthM) =>
    !Number.isFinite(lengthM) ? '' : units === 'ft' ? tapeText(lengthM, units) : digitsOf(lengthM, 3),
  read: (text) => readLengthM(text, units === 'ft' ? 12 * inch : 1),
  tell: (lengthM) => (units === 'ft' ? tapeText(lengthM, units) : `${digitsOf(lengthM, 3)} m`),
})

/** The size of a box or of a part of it, m: in metres, or in inches where the reader has chosen feet. */
export const sizeMeasure = (units: LengthUnit): Measure => ({
  kind: 'length',
  unit: sizeUnit(units),
  write: (sizeM) => sizeNumber(sizeM, units),
  read: (text) => readLengthM(text, units === 'ft' ? inch : 1),
  tell: (sizeM) => sizeText(sizeM, units),
})

/** A size that the trade tells in inches everywhere, m. */
export const inchMeasure: Measure = {
  ...sizeMeasure('ft'),
  tell: (sizeM) => sizeText(sizeM, 'ft'),
}

/** A delay in milliseconds, kept in seconds, or in milliseconds where `perMs` is 1. */
export const delayMeasure = (perMs: 0.001 | 1 = 0.001): Measure => ({
  kind: 'time',
  unit: 'ms',
  write: (delay) => digitsOf(delay / perMs, 3),
  read: (text) => Number((oneNumber(text, timeUnits, 1e-3) * 1000 * perMs).toFixed(9)),
  tell: (delay) => `${digitsOf(delay / perMs, 3)} ms`,
})

export const frequencyMeasure: Measure = {
  kind: 'frequency',
  unit: 'Hz',
  write: (frequencyHz) => digitsOf(frequencyHz, 2),
  read: (text) => oneNumber(text, frequencyUnits, 1),
  tell: (frequencyHz) =>
    frequencyHz >= 1000 ? `${digitsOf(frequencyHz / 1000, 5)} kHz` : `${digitsOf(frequencyHz, 2)} Hz`,
}

export const levelMeasure = (unit = 'dB'): Measure => ({
  kind: 'level',
  unit,
  write: (levelDb) => digitsOf(levelDb, 3),
  read: (text) => oneNumber(text, levelUnits, 1),
  tell: (levelDb) => `${shortText(levelDb, 3)} ${unit}`,
})

export const angleMeasure: Measure = {
  kind: 'angle',
  unit: '°',
  write: (angleDeg) => digitsOf(angleDeg, 1),
  read: (text) => oneNumber(text, angleUnits, 1),
  tell: (angleDeg) => `${shortText(angleDeg, 1)}°`,
}

/**
 * Why a value is not taken, with what is allowed, in one sentence; undefined for one that is. What is written as a limit is
 * counts as the limit: rounding for the eye is not out of range.
 */
export function typedProblem(
  value: number,
  { kind, write, tell }: Measure,
  { min, max }: { min: number; max: number },
): string | undefined {
  const allowed = { least: tell(min), most: tell(max) }
  if (!Number.isFinite(value)) return say.notReadable({ kind, ...allowed })
  if ((value >= min && value <= max) || write(value) === write(min) || write(value) === write(max)) return undefined
  if (value < 0 && min >= 0) return say.belowZero(allowed)
  if (value === 0 && min > 0) return say.zero(allowed)
  return value < min ? say.tooSmall(allowed) : say.tooLarge(allowed)
}
