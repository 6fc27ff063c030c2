import { expect, test } from 'vitest'
import { airText, fromTemperatureUnit, inTemperatureUnit, temperatureText } from '../../../src/words/air.ts'

test('a temperature is told in °C, or in whole °F where lengths are in feet', () => {
  expect(temperatureText(20, 'm')).toBe('20 °C')
  expect(temperatureText(-7.5, 'm')).toBe('−7.5 °C')
  expect(temperatureText(20, 'ft')).toBe('68 °F')
  expect(temperatureText(-40, 'ft')).toBe('−40 °F')
  expect(temperatureText(100, 'ft')).toBe('212 °F')
  expect(airText({ temperatureC: 12, humidityPct: 80 }, 'm')).toBe('12 °C, 80 %')
})

test('every whole °F that the site allows comes back as it was typed, though a tenth of a °C is kept', () => {
  for (let fahrenheit = 14; fahrenheit <= 113; fahrenheit++) {
    const keptC = Math.round(fromTemperatureUnit(fahrenheit, 'ft') * 10) / 10
    expect(inTemperatureUnit(keptC, 'ft')).toBe(fahrenheit)
  }
})
