import type { LengthUnit } from '../state/preferences.ts'

const metresPerFoot = 0.3048

/** A length in the reader's unit. */
export const inUnit = (lengthM: number, unit: LengthUnit): number => (unit === 'ft' ? lengthM / metresPerFoot : lengthM)

/** A length for a sentence: '1.8 m' to the nearest 5 cm, or '6 ft' to the nearest half foot. */
export function lengthText(lengthM: number, unit: LengthUnit): string {
  if (unit === 'ft') return `${trimmed(Math.round(inUnit(lengthM, 'ft') * 2) / 2, 1)} ft`
  return `${trimmed(Math.round(lengthM * 20) / 20, 2)} m`
}

/** The same for a screen reader: '1.8 metres', '6 feet'. */
export const lengthWords = (lengthM: number, unit: LengthUnit): string =>
  lengthText(lengthM, unit).replace(' m', ' metres').replace(' ft', ' feet')

/** A number without trailing zeros. */
const trimmed = (value: number, digits: number): string => String(Number(value.toFixed(digits)))
