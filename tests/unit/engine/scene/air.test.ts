import { expect, test } from 'vitest'
import { makeAir } from '../../../../src/acoustics/index.ts'
import { airOf, usualAir } from '../../../../src/engine/scene/air.ts'

test('the usual air is that of the acoustics module', () => {
  expect(airOf()).toEqual(makeAir())
  expect(airOf(usualAir)).toEqual(makeAir({ temperatureC: 20, relativeHumidityPct: 50 }))
})

test('temperature and humidity reach the air, and a state keeps its air', () => {
  const warm = { temperatureC: 30, humidityPct: 30 }
  expect(airOf(warm)).toEqual(makeAir({ temperatureC: 30, relativeHumidityPct: 30 }))
  expect(airOf({ ...warm })).toBe(airOf(warm))
  expect(airOf({ ...warm, humidityPct: 31 })).not.toBe(airOf(warm))
})

test('a state that is none is refused', () => {
  expect(() => airOf({ ...usualAir, temperatureC: 51 })).toThrow('temperatureC is 51')
  expect(() => airOf({ ...usualAir, humidityPct: 101 })).toThrow('relativeHumidityPct is 101')
  expect(() => airOf({ ...usualAir, temperatureC: Number.NaN })).toThrow('temperatureC is NaN')
})
