import { language } from './language.ts'

const withYear: Intl.DateTimeFormatOptions = { day: 'numeric', month: 'long', year: 'numeric' }
const withoutYear: Intl.DateTimeFormatOptions = { day: 'numeric', month: 'long' }

/** The day of a text as it is kept, '2026-11-29', where the reader is. */
function dateOf(day: string): Date {
  const [year = 0, month = 1, date = 1] = day.split('-').map(Number)
  return new Date(year, month - 1, date)
}

const shortDay: Intl.DateTimeFormatOptions = { day: 'numeric', month: 'short', year: 'numeric' }

/** A day as a sheet says it, which is read in another year: '29 Nov 2026'. */
export const sheetDayText = (day: string): string => new Intl.DateTimeFormat(language, shortDay).format(dateOf(day))

/**
 * A day as a sentence says it: '29 November'; with its year where that is not this one.
 *
 * @param day  '2026-11-29'
 */
export function dayText(day: string, now: Date = new Date()): string {
  const date = dateOf(day)
  const form = date.getFullYear() === now.getFullYear() ? withoutYear : withYear
  return new Intl.DateTimeFormat(language, form).format(date)
}
