import type { LengthUnit } from '../state/preferences.ts'

/**
 * A length for a sentence that needs more than 5 cm: '56 cm' or '2.66 m' to the centimetre; in feet, inches to the
 * half ('3.5 in') and from 3 ft on feet to the tenth ('8.7 ft').
 */
export function fineLengthText(lengthM: number, unit: LengthUnit): string {
  if (unit === 'm') return lengthM < 1 ? `${Math.round(lengthM * 100)} cm` : `${lengthM.toFixed(2)} m`
  const inches = lengthM / 0.0254
  return inches < 36 ? `${Math.round(inches * 2) / 2} in` : `${(inches / 12).toFixed(1)} ft`
}
