import { type Air, makeAir } from '../../acoustics/medium/air.ts'

/** The state of the air that a question is asked in: still, at standard pressure. */
export type AirState = { temperatureC: number; humidityPct: number }

/** The air of every question that names none, and of the numbers that are computed when the site is built. */
export const usualAir: AirState = { temperatureC: 20, humidityPct: 50 }

/** What every question may say of the air. */
export type InAir = {
  /** usualAir unless given. */
  air?: AirState
}

const known = new Map<string, Air>()
const mostKnown = 16

/**
 * The air of a state. The same state gives the same object, so that it may be compared and kept by.
 *
 * @throws RangeError as makeAir
 */
export function airOf({ temperatureC, humidityPct }: AirState = usualAir): Air {
  const key = `${temperatureC} ${humidityPct}`
  let air = known.get(key)
  if (!air) {
    air = makeAir({ temperatureC, relativeHumidityPct: humidityPct })
    if (known.size >= mostKnown) known.clear()
    known.set(key, air)
  }
  return air
}
