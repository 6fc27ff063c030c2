import { type Complex, fromPolar } from '../../acoustics/index.ts'

/** Impulse responses of a place and of what it is heard against, both with the same lead-in so that switching keeps time. */
export type Responses = { here: Float32Array; front: Float32Array }

/**
 * Start of every response before its direct sound, s: room for the phase of crossover and box, and for what a band limit spreads to
 * before the peak.
 */
export const leadInS = 0.006

/** A delay as a factor of the transfer function, e^{−jωτ}; by default the lead-in. */
export const late = (frequencyHz: number, delayS = leadInS): Complex =>
  fromPolar(1, -2 * Math.PI * frequencyHz * delayS)
