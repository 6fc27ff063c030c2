import { decimalText, shortText } from './numbers.ts'
import * as say from './words.messages.ts'

/**
 * A place in a recording: '1:05'.
 *
 * @param timeS  s, 0 or more
 */
export const clockText = (timeS: number): string =>
  `${Math.floor(timeS / 60)}:${String(Math.floor(timeS % 60)).padStart(2, '0')}`

/** Rounding of double precision, so that 4 hours are not 3.5. */
const rounding = 1e-9

/** A delay to a tenth of a millisecond: '3.9 ms', '4.0 ms'. */
export const delayText = (delayS: number): string => `${decimalText(1000 * delayS, 1)} ms`

/** The same without a zero at the end: '3.9 ms', '4 ms'. */
export const shortDelayText = (delayS: number): string => `${shortText(1000 * delayS, 1)} ms`

/** How long something may last at most, as people say it and never longer: '8 hours', '2.5 hours', '30 minutes'. */
export function durationText(hours: number): string {
  const halves = Math.floor(2 * hours + rounding)
  if (halves >= 2) return say.hours({ hours: halves / 2 })
  const minutes = Math.floor(60 * hours + rounding)
  return minutes > 0 ? say.minutes({ minutes }) : say.underOneMinute()
}
