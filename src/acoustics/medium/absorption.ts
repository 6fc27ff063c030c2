import { requireInRange } from '../numeric-range.ts'
import type { Air } from './air.ts'
import { requireAir } from './air.ts'
import { referenceTemperatureK, standardPressureKPa, zeroCelsiusK } from './reference-values.ts'

/** Triple-point temperature of water T₀₁, K. */
const triplePointK = 273.16

/**
 * Pure-tone absorption of sound by air, from the relaxation of oxygen and nitrogen and the classical losses:
 *
 *   α = 8.686 f² { 1.84·10⁻¹¹ (pₐ/p_r)⁻¹ (T/T₀)^½
 *                  + (T/T₀)^(−5/2) [ 0.01275 e^(−2239.1/T) / (f_rO + f²/f_rO) + 0.1068 e^(−3352/T) / (f_rN + f²/f_rN) ] }
 *
 * @param frequencyHz  above 0 to 1 000 000 Hz
 * @param air          state of the air; its speed of sound and density play no part
 * @returns  dB per metre of path, 0 or more
 * @throws   RangeError if the frequency or a field of the air is outside its range
 * Source:   ISO 9613-1:1993, Equations (3) to (6) and Annex B.
 * Accuracy: the standard claims ±10 % from −20 to 50 °C for a molar water-vapour concentration of 0.05 … 5 % and a
 *           ratio of frequency to pressure of 4·10⁻⁴ … 10 Hz/Pa.
 */
export function absorptionDbPerM(frequencyHz: number, air: Air): number {
  const f = requireInRange('frequencyHz', frequencyHz, { above: 0, max: 1e6, unit: 'Hz' })
  requireAir(air)
  const T = air.temperatureC + zeroCelsiusK
  const relativeT = T / referenceTemperatureK
  const relativeP = air.pressureKPa / standardPressureKPa

  const saturation = 10 ** (-6.8346 * (triplePointK / T) ** 1.261 + 4.6151)
  const h = (air.relativeHumidityPct * saturation) / relativeP
  const oxygenHz = relativeP * (24 + (4.04e4 * h * (0.02 + h)) / (0.391 + h))
  const nitrogenHz = (relativeP / Math.sqrt(relativeT)) * (9 + 280 * h * Math.exp(-4.17 * (relativeT ** (-1 / 3) - 1)))

  const classical = (1.84e-11 * Math.sqrt(relativeT)) / relativeP
  const oxygen = (0.01275 * Math.exp(-2239.1 / T)) / (oxygenHz + f ** 2 / oxygenHz)
  const nitrogen = (0.1068 * Math.exp(-3352 / T)) / (nitrogenHz + f ** 2 / nitrogenHz)
  return 8.686 * f ** 2 * (classical + relativeT ** -2.5 * (oxygen + nitrogen))
}
