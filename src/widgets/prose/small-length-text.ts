import type { LengthUnit } from '../../state/preferences.ts'

/** A small length for a sentence: '9 cm' to the whole centimetre, or '3.5 in' to the half inch. */
export const smallLengthText = (lengthM: number, unit: LengthUnit): string =>
  unit === 'ft' ? `${Math.round((lengthM / 0.0254) * 2) / 2} in` : `${Math.round(lengthM * 100)} cm`
