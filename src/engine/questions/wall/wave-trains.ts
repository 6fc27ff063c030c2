import { amplitudeLevelDb, divide, magnitude } from '../../../acoustics/index.ts'
import type { Arrivals } from './wall-arrivals.ts'

/** The two wave trains in front at one frequency, from the first arrival on; 1 is the amplitude without the wall. */
export type WaveTrains = {
  /** How late the wall's train is, s, and how many waves that is. */
  lateS: number
  lateWaves: number
  /** Amplitude of the wall's train re the other. */
  wallAmplitude: number
  /** Level of both together re the one without the wall, dB, once both are there. */
  changeDb: number
  timesMs: number[]
  direct: number[]
  wall: number[]
  sum: number[]
}

/** Points of the drawn trains, and how many waves are drawn from the moment at which both are there. */
const trainPoints = 241
const wavesTogether = 2.5

/**
 * Two trains of a sine that begins at the source at one moment. The wall's one begins when its wave does, which is its phase
 * delay: the way over the wall, and what going round the box adds.
 */
export function waveTrains({ without, overWall, both, wallDelayS }: Arrivals, frequencyHz: number): WaveTrains {
  const direct = without(frequencyHz)
  const ratio = divide(overWall(frequencyHz), direct)
  const cycles = frequencyHz * wallDelayS
  const phaseCycles = -Math.atan2(ratio.im, ratio.re) / (2 * Math.PI)
  const lateWaves = phaseCycles + Math.round(cycles - phaseCycles)
  const wallAmplitude = magnitude(ratio)
  const waves = Array.from({ length: trainPoints }, (_, i) => ((lateWaves + wavesTogether) * i) / (trainPoints - 1))
  const train = (startWaves: number, amplitude: number) =>
    waves.map((wave) => (wave < startWaves ? 0 : amplitude * Math.sin(2 * Math.PI * (wave - startWaves))))
  const [alone, reflected] = [train(0, 1), train(lateWaves, wallAmplitude)]
  return {
    lateS: lateWaves / frequencyHz,
    lateWaves,
    wallAmplitude,
    changeDb: amplitudeLevelDb(magnitude(both(frequencyHz)) / magnitude(direct)),
    timesMs: waves.map((wave) => (1000 * wave) / frequencyHz),
    direct: alone,
    wall: reflected,
    sum: alone.map((value, i) => value + (reflected[i] as number)),
  }
}
