import type { LengthUnit } from '../state/preferences.ts'

const metresPerInch = 0.0254

/** The unit that a box is measured in: metres, or inches where the reader has chosen feet. */
export const sizeUnit = (units: LengthUnit): 'm' | 'in' => (units === 'ft' ? 'in' : 'm')

/** A size as its field shows it, without the unit: '0.32', '12.6'. A number that is none gives an empty text. */
export function sizeNumber(sizeM: number, units: LengthUnit): string {
  if (!Number.isFinite(sizeM)) return ''
  const value = units === 'ft' ? (sizeM / metresPerInch).toFixed(1) : sizeM.toFixed(3)
  return String(Number(value)).replace('-', '−')
}

/** The same with its unit: '0.32 m', '12.6 in'. */
export const sizeText = (sizeM: number, units: LengthUnit): string => `${sizeNumber(sizeM, units)} ${sizeUnit(units)}`

/** The same rounded down, for a limit: what it says must be allowed when it is typed in. */
export function sizeTextDown(sizeM: number, units: LengthUnit): string {
  const grainM = units === 'ft' ? metresPerInch / 10 : 0.001
  return sizeText(Math.floor(sizeM / grainM + 1e-6) * grainM, units)
}

/** Step of a size field, m: a centimetre, or half an inch. */
export const sizeStepM = (units: LengthUnit): number => (units === 'ft' ? metresPerInch / 2 : 0.01)

const metresPer: Record<string, number> = {
  mm: 0.001,
  cm: 0.01,
  m: 1,
  in: metresPerInch,
  '"': metresPerInch,
  ft: 12 * metresPerInch,
  "'": 12 * metresPerInch,
}

/**
 * A size as a reader writes it, m. A bare number is in the unit of the field; mm, cm, m, in (") and ft (') may follow, and
 * feet with inches behind them (1' 10"). A comma counts as a point.
 *
 * @returns metres, or NaN for a text that is no size
 */
export function parseSizeM(text: string, units: LengthUnit): number {
  const plain = text
    .trim()
    .toLowerCase()
    .replaceAll(',', '.')
    .replaceAll('−', '-')
    .replaceAll(/[’′]/g, "'")
    .replaceAll(/[”″]/g, '"')
    .replaceAll(/\b(inches|inch)\b/g, 'in')
    .replaceAll(/\b(feet|foot)\b/g, 'ft')
  const both = /^(-?)(\d{1,9})\s*(?:ft|')\s*(\d{1,9}(?:\.\d*)?)\s*(?:in|")?$/.exec(plain)
  if (both) return toGrain((both[1] ? -1 : 1) * (Number(both[2]) * 12 + Number(both[3])) * metresPerInch)
  const one = /^([-+]?(?:\d{1,9}(?:\.\d*)?|\.\d+))\s*(mm|cm|m|in|"|ft|')?$/.exec(plain)
  if (!one) return Number.NaN
  return toGrain(Number(one[1]) * (metresPer[one[2] ?? sizeUnit(units)] ?? Number.NaN))
}

/** Sizes are kept to a tenth of a millimetre, which is what a link carries. */
export const toGrain = (sizeM: number): number => Number(sizeM.toFixed(4))

/** A plain number as a reader writes it, or NaN. */
export function parseNumber(text: string): number {
  const plain = text.trim().replaceAll(',', '.').replaceAll('−', '-')
  return /^[-+]?(\d{1,9}(\.\d*)?|\.\d+)$/.test(plain) ? Number(plain) : Number.NaN
}
