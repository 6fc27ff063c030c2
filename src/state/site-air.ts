import { type AirState, usualAir } from '../acoustics/medium/usual-air.ts'
import * as say from './site-air.messages.ts'

/** The air that every figure of the site computes with. */
export type SiteAir = AirState

/** What holds until the reader says otherwise. */
export { usualAir }

/** Where people and loudspeakers work; early.js holds to the same bounds. */
export const siteAirRanges = {
  temperatureC: { min: -10, max: 45 },
  humidityPct: { min: 0, max: 100 },
} as const

const parameter = 'air'
const number = /^[-+]?(\d+\.?\d*|\.\d+)$/
const longestText = 40

/** Whether a value can be this part of the site's air. */
export function isSiteAir(part: keyof SiteAir, value: unknown): value is number {
  const { min, max } = siteAirRanges[part]
  return typeof value === 'number' && value >= min && value <= max
}

/** To a tenth, which is finer than any thermometer of an evening; zero is never signed. */
export const roundedAir = (value: number): number => Math.round(value * 10) / 10 + 0

/**
 * Reads the page's air out of an address: `air=12,80` is 12 °C and 80 %. Never throws.
 *
 * @returns  the air, absent if the address has none or none that can be used; one plain line if it was left out
 */
export function airFromAddress(params: URLSearchParams): { air?: SiteAir; dropped: string[] } {
  const text = params.get(parameter)
  if (text === null) return { dropped: [] }
  const parts = text.length > longestText ? [] : text.split(',').map((part) => part.trim())
  const [temperatureC, humidityPct] = parts.map((part) => (number.test(part) ? roundedAir(Number(part)) : Number.NaN))
  if (parts.length === 2 && isSiteAir('temperatureC', temperatureC) && isSiteAir('humidityPct', humidityPct)) {
    return { air: { temperatureC, humidityPct }, dropped: [] }
  }
  const shown = text.length > 24 ? `${text.slice(0, 24)}…` : text
  const { temperatureC: t, humidityPct: h } = siteAirRanges
  const allowed = { minC: String(t.min).replace('-', '−'), maxC: t.max, minPct: h.min, maxPct: h.max }
  return { dropped: [say.air({ text: shown, ...allowed })] }
}

/** Writes the page's air into an address's parameters, and leaves it out when it is the usual one. The others stay. */
export function withAir(params: URLSearchParams, air: SiteAir): URLSearchParams {
  const next = new URLSearchParams(params)
  const [temperatureC, humidityPct] = [roundedAir(air.temperatureC), roundedAir(air.humidityPct)]
  if (temperatureC === usualAir.temperatureC && humidityPct === usualAir.humidityPct) next.delete(parameter)
  else next.set(parameter, `${temperatureC},${humidityPct}`)
  return next
}
