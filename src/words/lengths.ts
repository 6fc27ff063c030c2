import type { LengthUnit } from '../state/preferences.ts'
import { decimalText, shortText, wholeText } from './numbers.ts'
import * as say from './words.messages.ts'

const metresPerFoot = 0.3048
const metresPerInch = metresPerFoot / 12

/** A length in the reader's unit. */
export const inUnit = (lengthM: number, unit: LengthUnit): number => (unit === 'ft' ? lengthM / metresPerFoot : lengthM)

/** A length for a sentence: '1.8 m' to the nearest 5 cm, or '6 ft' to the nearest half foot. */
export function lengthText(lengthM: number, unit: LengthUnit): string {
  if (unit === 'ft') return `${shortText(Math.round(inUnit(lengthM, 'ft') * 2) / 2, 1)} ft`
  return `${shortText(Math.round(lengthM * 20) / 20, 2)} m`
}

/**
 * A length for a sentence that needs more than 5 cm: '56 cm' or '2.66 m' to the centimetre; in feet, inches to the
 * half ('3.5 in') and from 3 ft on feet to the tenth ('8.7 ft').
 */
export function fineLengthText(lengthM: number, unit: LengthUnit): string {
  if (unit === 'm') return lengthM < 1 ? `${Math.round(lengthM * 100)} cm` : `${decimalText(lengthM, 2)} m`
  const inches = lengthM / metresPerInch
  return inches < 36 ? `${shortText(Math.round(inches * 2) / 2, 1)} in` : `${decimalText(inches / 12, 1)} ft`
}

/** A length as a place near a wall or a mouth asks for it: fine below a metre, to 5 cm above. */
export const nearLengthText = (lengthM: number, unit: LengthUnit): string =>
  lengthM < 1 ? fineLengthText(lengthM, unit) : lengthText(lengthM, unit)

/** A length of a wave or a box to what a tape can use: '11 m', '1.4 m', '17 cm'; '36 ft', '4.5 ft', '7 in'. */
export function waveLengthText(lengthM: number, unit: LengthUnit): string {
  if (unit === 'm') {
    if (lengthM >= 9.95) return `${Math.round(lengthM)} m`
    return lengthM >= 0.995 ? `${shortText(lengthM, 1)} m` : `${Math.round(lengthM * 100)} cm`
  }
  const feet = lengthM / metresPerFoot
  if (feet >= 9.75) return `${Math.round(feet)} ft`
  if (feet >= 2.75) return `${shortText(Math.round(feet * 2) / 2, 1)} ft`
  const inches = feet * 12
  return `${shortText(inches < 10 ? Math.round(inches * 2) / 2 : inches, inches < 10 ? 1 : 0)} in`
}

/** A length to be laid out with a tape: '1.35 m', or '4 ft 5 in' to the half inch. */
export function tapeText(lengthM: number, unit: LengthUnit): string {
  const sign = lengthM < -0.004 ? '−' : ''
  if (unit === 'm') return `${sign}${decimalText(Math.abs(lengthM), 2)} m`
  const halfInches = Math.round(Math.abs(lengthM) / (metresPerInch / 2))
  const feet = Math.floor(halfInches / 24)
  return `${sign}${feet} ft ${shortText((halfInches - 24 * feet) / 2, 1)} in`
}

/** A small spacing to the millimetre: '8.5 cm', '3.3 in'. */
export const spacingText = (lengthM: number, unit: LengthUnit): string =>
  unit === 'ft' ? `${decimalText(lengthM / metresPerInch, 1)} in` : `${decimalText(100 * lengthM, 1)} cm`

/** An area of floor: '3.2 m²', '34 ft²'. */
export const areaText = (areaM2: number, unit: LengthUnit): string =>
  unit === 'ft' ? `${wholeText(areaM2 / metresPerFoot ** 2)} ft²` : `${decimalText(areaM2, 1)} m²`

const spoken: Record<string, (values: { number: string }) => string> = {
  m: say.metres,
  cm: say.centimetres,
  ft: say.feet,
  in: say.inches,
}

/** A length as one of the functions here writes it, for a screen reader: '1.8 metres', '4 feet 5 inches'. */
export const spokenLength = (text: string): string =>
  text.replace(/(\S+) (cm|m|ft|in)\b/g, (_, number: string, unit: string) => spoken[unit]?.({ number }) ?? '')

/** A length for a sentence, read out: '1.8 metres', '6 feet'. */
export const lengthWords = (lengthM: number, unit: LengthUnit): string => spokenLength(lengthText(lengthM, unit))

/** The length of a wave or a box, read out. */
export const waveLengthWords = (lengthM: number, unit: LengthUnit): string =>
  spokenLength(waveLengthText(lengthM, unit))
