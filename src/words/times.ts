import { decimalText, shortText } from './numbers.ts'
import * as say from './words.messages.ts'

/** A delay to a tenth of a millisecond: '3.9 ms', '4.0 ms'. */
export const delayText = (delayS: number): string => `${decimalText(1000 * delayS, 1)} ms`

/** The same without a zero at the end: '3.9 ms', '4 ms'. */
export const shortDelayText = (delayS: number): string => `${shortText(1000 * delayS, 1)} ms`

/** How long something may last, as people say it: '8 hours', '30 minutes'. */
export function durationText(hours: number): string {
  if (hours >= 1.75) return say.hours({ hours: Math.round(hours) })
  const minutes = Math.round(60 * hours)
  return minutes === 60 ? say.hours({ hours: 1 }) : say.minutes({ minutes })
}
