import type { LengthUnit } from '../state/preferences.ts'
import { shortText } from './numbers.ts'

const metresPerInch = 0.0254

/** The unit that a box is measured in: metres, or inches where the reader has chosen feet. */
export const sizeUnit = (units: LengthUnit): 'm' | 'in' => (units === 'ft' ? 'in' : 'm')

/** A size as its field shows it, without the unit: '0.32', '12.6'. A number that is none gives an empty text. */
export function sizeNumber(sizeM: number, units: LengthUnit): string {
  if (!Number.isFinite(sizeM)) return ''
  return units === 'ft' ? shortText(sizeM / metresPerInch, 1) : shortText(sizeM, 3)
}

/** The same with its unit: '0.32 m', '12.6 in'. */
export const sizeText = (sizeM: number, units: LengthUnit): string => `${sizeNumber(sizeM, units)} ${sizeUnit(units)}`

/** The same rounded down, for a limit: what it says must be allowed when it is typed in. */
export function sizeTextDown(sizeM: number, units: LengthUnit): string {
  const grainM = units === 'ft' ? metresPerInch / 10 : 0.001
  return sizeText(Math.floor(sizeM / grainM + 1e-6) * grainM, units)
}

/** The same rounded up, for what is needed at least. */
export function sizeTextUp(sizeM: number, units: LengthUnit): string {
  const grainM = units === 'ft' ? metresPerInch / 10 : 0.001
  return sizeText(Math.ceil(sizeM / grainM - 1e-6) * grainM, units)
}

/** Step of a size field, m: a centimetre, or half an inch. */
export const sizeStepM = (units: LengthUnit): number => (units === 'ft' ? metresPerInch / 2 : 0.01)

/** Sizes are kept to a tenth of a millimetre, which is what a link carries. */
export const toGrain = (sizeM: number): number => Number(sizeM.toFixed(4))
