import type { LengthUnit } from '../state/preferences.ts'
import { type SiteAir, siteAirRanges } from '../state/site-air.ts'
import { digits } from './digits.ts'
import { oneNumber } from './measures.ts'
import { shortText } from './numbers.ts'
import * as say from './words.messages.ts'

/** Whoever measures in feet reads °F. */
export const temperatureUnit = (units: LengthUnit): '°C' | '°F' => (units === 'ft' ? '°F' : '°C')

/** A temperature in the reader's unit: °C to a tenth, °F whole. */
export const inTemperatureUnit = (temperatureC: number, units: LengthUnit): number =>
  units === 'ft' ? Math.round(temperatureC * 1.8 + 32) : Math.round(temperatureC * 10) / 10

/** A temperature from the reader's unit, °C. */
export const fromTemperatureUnit = (temperature: number, units: LengthUnit): number =>
  units === 'ft' ? (temperature - 32) / 1.8 : temperature

/** A temperature as people write it, °C: '12', '−5 °C', '68 F'; a bare number is in the reader's unit. NaN for other texts. */
export function readTemperatureC(text: string, units: LengthUnit): number {
  const [celsius, fahrenheit] = [
    oneNumber(text, { '°c': 1, c: 1 }, Number.NaN),
    oneNumber(text, { '°f': 1, f: 1 }, Number.NaN),
  ]
  if (!Number.isNaN(celsius)) return celsius
  if (!Number.isNaN(fahrenheit)) return fromTemperatureUnit(fahrenheit, 'ft')
  return fromTemperatureUnit(oneNumber(text, { '°': 1 }, 1), units)
}

/** A relative humidity as people write it, %: '50', '50 %'. NaN for other texts. */
export const readHumidityPct = (text: string): number => oneNumber(text, { '%': 1 }, 1)

const temperatureNumber = (temperatureC: number, units: LengthUnit): string =>
  shortText(inTemperatureUnit(temperatureC, units), 1)

/** A temperature for a label: '20 °C', '−5 °C', '68 °F'. */
export const temperatureText = (temperatureC: number, units: LengthUnit): string =>
  `${temperatureNumber(temperatureC, units)} ${temperatureUnit(units)}`

/** The air for a label: '20 °C, 50 %'. */
export const airText = (air: { temperatureC: number; humidityPct: number }, units: LengthUnit): string =>
  `${temperatureText(air.temperatureC, units)}, ${digits(String(air.humidityPct))} %`

/** What a part of the site's air may be: '−10 to 45 °C', '0 to 100 %'. */
export function allowedAir(part: keyof SiteAir, units: LengthUnit): string {
  const { min, max } = siteAirRanges[part]
  if (part === 'humidityPct') return say.fromTo({ from: min, to: max, unit: '%' })
  const [from, to] = [temperatureNumber(min, units), temperatureNumber(max, units)]
  return say.fromTo({ from, to, unit: temperatureUnit(units) })
}
