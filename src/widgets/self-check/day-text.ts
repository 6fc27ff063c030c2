const withYear: Intl.DateTimeFormatOptions = { day: 'numeric', month: 'long', year: 'numeric' }
const withoutYear: Intl.DateTimeFormatOptions = { day: 'numeric', month: 'long' }

/**
 * A day as a sentence says it: '29 November'; with its year where that is not this one.
 *
 * @param day  '2026-11-29'
 */
export function dayText(day: string, now: Date = new Date()): string {
  const [year = 0, month = 1, date = 1] = day.split('-').map(Number)
  const form = year === now.getFullYear() ? withoutYear : withYear
  return new Intl.DateTimeFormat('en-GB', form).format(new Date(year, month - 1, date))
}
