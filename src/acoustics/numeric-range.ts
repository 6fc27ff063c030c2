/**
 * The allowed range of one argument. `above` and `below` are open ends, `min` and `max` closed ones.
 * `unit` is the word or symbol printed behind the numbers, for instance 'Hz' or 'm'.
 */
export type NumericRange = {
  min?: number
  max?: number
  above?: number
  below?: number
  unit?: string
  integer?: boolean
}

/**
 * Checks one argument and returns it unchanged.
 *
 * @param name   the argument's name as the caller knows it, for instance 'frequencyHz'
 * @param value  the value to check
 * @param range  what is allowed; a finite number is always required
 * @throws RangeError with the name, the value and the allowed range in words
 */
export function requireInRange(name: string, value: number, range: NumericRange = {}): number {
  const inside =
    typeof value === 'number' &&
    Number.isFinite(value) &&
    (range.min === undefined || value >= range.min) &&
    (range.max === undefined || value <= range.max) &&
    (range.above === undefined || value > range.above) &&
    (range.below === undefined || value < range.below) &&
    (!range.integer || Number.isInteger(value))
  if (!inside) throw new RangeError(`${name} is ${String(value)}; allowed is ${rangeInWords(range)}`)
  return value
}

/** The allowed range as a reader would say it: 'a number from 20 to 200 kPa', 'a number above 0 Hz'. */
export function rangeInWords(range: NumericRange): string {
  const noun = range.integer ? 'a whole number' : 'a finite number'
  const unit = range.unit ? ` ${range.unit}` : ''
  const low = range.min !== undefined ? `from ${range.min}` : range.above !== undefined ? `above ${range.above}` : ''
  const high = range.max !== undefined ? `to ${range.max}` : range.below !== undefined ? `below ${range.below}` : ''
  if (!low && !high) return noun
  const joint = low && high ? (range.max !== undefined ? ' ' : ' and ') : ''
  const upTo = !low && range.max !== undefined ? 'up ' : ''
  return `${noun} ${low}${joint}${upTo}${high}${unit}`
}
