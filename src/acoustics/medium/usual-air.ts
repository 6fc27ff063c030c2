/** The state of still air at standard pressure. */
export type AirState = { temperatureC: number; humidityPct: number }

/** The air that holds wherever none is named: the default of makeAir, of every question and of the site. */
export const usualAir: Readonly<AirState> = { temperatureC: 20, humidityPct: 50 }
