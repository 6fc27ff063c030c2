import type { NumericRange } from '../numeric-range.ts'

/** Frequencies that every closed form of radiation accepts. */
export const frequencyRange: NumericRange = { min: 1e-6, max: 1e6, unit: 'Hz' }
