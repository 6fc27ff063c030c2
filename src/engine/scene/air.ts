import { type Air, makeAir } from '../../acoustics/medium/air.ts'
import { type AirState, usualAir } from '../../acoustics/medium/usual-air.ts'

/** The state of the air that a question is asked in; usual in every question that names none, and at build. */
export { type AirState, usualAir }

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
