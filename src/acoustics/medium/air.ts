import type { NumericRange } from '../numeric-range.ts'
import { requireInRange } from '../numeric-range.ts'
import { dryAirGasConstant, referenceTemperatureK, standardPressureKPa, zeroCelsiusK } from './reference-values.ts'
import { usualAir } from './usual-air.ts'

/** Still air: its state, and the speed of sound and density that follow from it. Either may be set by hand afterwards. */
export type Air = {
  temperatureC: number
  relativeHumidityPct: number
  pressureKPa: number
  speedOfSoundMps: number
  densityKgM3: number
}

const temperatureRange: NumericRange = { min: -20, max: 50, unit: '°C' }
const humidityRange: NumericRange = { min: 0, max: 100, unit: '%' }
const pressureRange: NumericRange = { min: 20, max: 200, unit: 'kPa' }

/**
 * Air from its state:  c = 343.2 √(T/293.15 K) m/s,  ρ = p / (R T) of dry air, T = t + 273.15 K
 *
 * @param conditions  temperatureC −20 … 50 (default 20), relativeHumidityPct 0 … 100 (default 50),
 *                    pressureKPa 20 … 200 (default 101.325)
 * @throws   RangeError if a condition is not finite or outside its range
 * Source:   ISO 9613-1 for the speed of sound, the ideal-gas law (R = 287.058 J/(kg·K)) for density.
 * Accuracy: humidity is left out of both, as in ISO 9613-1. At 20 °C fully humid air is about 0.4 % faster
 *           and about 1 % lighter.
 */
export function makeAir(
  conditions: Partial<Pick<Air, 'temperatureC' | 'relativeHumidityPct' | 'pressureKPa'>> = {},
): Air {
  const temperatureC = requireInRange(
    'temperatureC',
    conditions.temperatureC ?? usualAir.temperatureC,
    temperatureRange,
  )
  const relativeHumidityPct = requireInRange(
    'relativeHumidityPct',
    conditions.relativeHumidityPct ?? usualAir.humidityPct,
    humidityRange,
  )
  const pressureKPa = requireInRange('pressureKPa', conditions.pressureKPa ?? standardPressureKPa, pressureRange)
  const temperatureK = temperatureC + zeroCelsiusK
  return {
    temperatureC,
    relativeHumidityPct,
    pressureKPa,
    speedOfSoundMps: speedOfSoundAtMps(temperatureC),
    densityKgM3: (1000 * pressureKPa) / (dryAirGasConstant * temperatureK),
  }
}

/** Speed of sound at a temperature, m/s; see makeAir, which checks its range. */
export const speedOfSoundAtMps = (temperatureC: number): number =>
  343.2 * Math.sqrt((temperatureC + zeroCelsiusK) / referenceTemperatureK)

/**
 * Checks an Air that may have been put together by hand, and returns it unchanged.
 *
 * @throws RangeError naming the field: the state's ranges are those of makeAir; speed and density are above 0
 */
export function requireAir(air: Air): Air {
  requireInRange('air.temperatureC', air.temperatureC, temperatureRange)
  requireInRange('air.relativeHumidityPct', air.relativeHumidityPct, humidityRange)
  requireInRange('air.pressureKPa', air.pressureKPa, pressureRange)
  requireInRange('air.speedOfSoundMps', air.speedOfSoundMps, { above: 0, unit: 'm/s' })
  requireInRange('air.densityKgM3', air.densityKgM3, { above: 0, unit: 'kg/m³' })
  return air
}
