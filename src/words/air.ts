import type { LengthUnit } from '../state/preferences.ts'

/** Whoever measures in feet reads °F. */
export const temperatureUnit = (units: LengthUnit): '°C' | '°F' => (units === 'ft' ? '°F' : '°C')

/** A temperature in the reader's unit: °C to a tenth, °F whole. */
export const inTemperatureUnit = (temperatureC: number, units: LengthUnit): number =>
  units === 'ft' ? Math.round(temperatureC * 1.8 + 32) : Math.round(temperatureC * 10) / 10

/** A temperature from the reader's unit, °C. */
export const fromTemperatureUnit = (temperature: number, units: LengthUnit): number =>
  units === 'ft' ? (temperature - 32) / 1.8 : temperature

/** A temperature for a label: '20 °C', '−5 °C', '68 °F'. */
export const temperatureText = (temperatureC: number, units: LengthUnit): string =>
  `${inTemperatureUnit(temperatureC, units)} ${temperatureUnit(units)}`.replace('-', '−')

/** The air for a label: '20 °C, 50 %'. */
export const airText = (air: { temperatureC: number; humidityPct: number }, units: LengthUnit): string =>
  `${temperatureText(air.temperatureC, units)}, ${air.humidityPct} %`
