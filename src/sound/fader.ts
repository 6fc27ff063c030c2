import type { SoundClock } from './sound-clock.ts'

/** The part of a gain parameter that a fader needs. */
export type FadedParam = {
  setValueAtTime(value: number, timeS: number): unknown
  linearRampToValueAtTime(value: number, timeS: number): unknown
  cancelScheduledValues(timeS: number): unknown
}

/** Moves a gain along straight ramps that are never broken off. */
export type Fader = {
  /** Ramps to a linear gain; during a ramp the newest wish waits for its end. Returns the time of arrival, s. */
  fadeTo(gain: number): number
  /** Sets the gain at once; for when nothing is heard. */
  jumpTo(gain: number): void
}

/**
 * Makes a fader. A ramp once begun runs to its end: breaking it off would need the parameter's value at a moment that
 * the audio thread may already have passed, and that is heard as a click.
 *
 * @param wiring  the parameter, its clock, its first linear gain and the length of a ramp, s
 */
export function createFader(wiring: { param: FadedParam; clock: SoundClock; gain: number; rampS: number }): Fader {
  const { param, clock, rampS } = wiring
  let reached = wiring.gain
  let busyUntilS = Number.NEGATIVE_INFINITY
  let waiting: number | undefined
  param.setValueAtTime(reached, 0)

  const ramp = (gain: number, fromS: number): number => {
    param.setValueAtTime(reached, fromS)
    param.linearRampToValueAtTime(gain, fromS + rampS)
    reached = gain
    busyUntilS = fromS + rampS
    return busyUntilS
  }

  const takeWaiting = (): void => {
    if (waiting === undefined) return
    const nowS = clock.nowS()
    if (nowS < busyUntilS) {
      clock.callAt(busyUntilS, takeWaiting)
      return
    }
    const gain = waiting
    waiting = undefined
    if (gain !== reached) ramp(gain, nowS)
  }

  return {
    fadeTo(gain) {
      const nowS = clock.nowS()
      if (nowS >= busyUntilS) return gain === reached ? nowS : ramp(gain, nowS)
      if (waiting === undefined) clock.callAt(busyUntilS, takeWaiting)
      waiting = gain
      return busyUntilS + rampS
    },
    jumpTo(gain) {
      waiting = undefined
      busyUntilS = Number.NEGATIVE_INFINITY
      reached = gain
      param.cancelScheduledValues(0)
      param.setValueAtTime(gain, clock.nowS())
    },
  }
}
