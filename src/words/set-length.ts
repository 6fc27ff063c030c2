import type { LengthUnit } from '../state/preferences.ts'
import { fineLengthText } from './lengths.ts'
import { shortText } from './numbers.ts'

/** A length that the reader sets, to what its field shows: '56 cm', '1.04 m', '4 m'; in feet as fineLengthText. */
export const setLengthText = (lengthM: number, unit: LengthUnit): string =>
  unit === 'm' && lengthM >= 1 ? `${shortText(lengthM, 2)} m` : fineLengthText(lengthM, unit)
