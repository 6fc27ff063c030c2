/** Zero of the Celsius scale, K. */
export const zeroCelsiusK = 273.15

/** Standard atmospheric pressure, kPa. Source: ISO 9613-1 (reference pressure p_r). */
export const standardPressureKPa = 101.325

/** Reference air temperature T₀ (20 °C), K. Source: ISO 9613-1. */
export const referenceTemperatureK = 293.15

/** Specific gas constant of dry air, J/(kg·K). */
export const dryAirGasConstant = 287.058
