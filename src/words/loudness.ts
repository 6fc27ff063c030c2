import { decimalText, percentText, roundText, wholeText } from './numbers.ts'
import * as say from './words.messages.ts'

/** Sones as a reader can use them: '34', '8.5', '0.4'. */
export const sonesText = (sones: number): string => (sones < 9.95 ? decimalText(sones, 1) : wholeText(sones))

/** Sones of a single tone, which may be very few: two digits, '4', '1.3', '0.05'. */
export const toneSonesText = (sones: number): string => (sones < 0.01 ? say.underOneHundredth() : roundText(sones, 2))

/** How many times as loud, by sones: 'as loud as', 'about 0.4 times as loud as'. */
export function timesAsLoud(ratio: number): string {
  if (Math.abs(ratio - 1) < 0.05) return say.asLoudAs()
  return say.timesAsLoudAs({ times: roundText(ratio, ratio < 1 ? 1 : 2) })
}

type Part = Parameters<typeof say.fraction>[0]['part']
const parts: Record<Part, number> = {
  threeQuarters: 3 / 4,
  twoThirds: 2 / 3,
  half: 1 / 2,
  third: 1 / 3,
  quarter: 1 / 4,
  fifth: 1 / 5,
  tenth: 1 / 10,
}
const partNames = Object.keys(parts) as Part[]

/** A share of loudness as people say it where it is near a plain fraction, else in percent: 'half', 'about a third', 'about 40 %'. */
export function fractionWords(share: number): string {
  const near = (['half', 'third', 'quarter', 'fifth', 'tenth'] as const).find(
    (part) => Math.abs(share / parts[part] - 1) < 0.08,
  )
  if (near) return exactOrAbout(near, Math.abs(share / parts[near] - 1) < 0.01)
  if (share < 0.01) return say.lessThanOnePercent()
  return say.about({ amount: percentText(share < 0.1 ? share : Math.round(20 * share) / 20) })
}

/** A part that is left, always as a plain fraction from a quarter up: 'half', 'about two thirds'. */
export function partText(part: number): string {
  const name = partNames
    .filter((known) => parts[known] >= parts.quarter)
    .reduce((best, next) => (Math.abs(parts[next] - part) < Math.abs(parts[best] - part) ? next : best))
  return exactOrAbout(name, Math.abs(parts[name] - part) < 0.02)
}

function exactOrAbout(part: Part, exact: boolean): string {
  const amount = say.fraction({ part })
  return exact ? amount : say.about({ amount })
}
