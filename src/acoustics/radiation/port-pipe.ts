import { type Air, requireAir } from '../medium/air.ts'
import { requireInRange } from '../numeric-range.ts'
import { requireTuning } from './port-flow.ts'

/** Of the outer volume of a box this much is air: walls, drivers and braces take the rest (common practice, no source). */
const airShare = 0.75

/** What the air moving at both ends adds to a pipe, in its radius: one end flush with a wall, 8/3π, the other free, 0.613. */
const endsInRadii = 8 / (3 * Math.PI) + 0.613

/** What a port of some width has to be inside, to tune a box. */
export type PortPipe = {
  /** Length of the pipe, m, without the ends; 0 or less: even a bare hole of this width tunes the box lower. */
  lengthM: number
  /** Lowest frequency at which the pipe itself rings, half a wave long, Hz; above it its multiples. */
  pipeHz: number
}

/**
 * The pipe that tunes a box, from a Helmholtz resonator, and where that pipe itself rings:
 *
 *   L' = S c² / (ω_b² V),   L' = L + (8/3π + 0.613) a,   f_pipe = c / 2L'
 *
 * Good for a guess: the volume is three quarters of the outer one.
 *
 * @param box   outer size, 0.01 … 10 m
 * @param port  diameter 0.005 … 2 m, tuning 10 … 400 Hz
 * @param air   the medium
 * @throws RangeError for arguments outside these ranges
 * Source: Kinsler & Frey, Fundamentals of Acoustics, section 10.8 (Helmholtz resonator); the free end from Levine and Schwinger, value
 *         from memory.
 */
export function portPipe(
  box: { widthM: number; heightM: number; depthM: number },
  port: { diameterM: number; tuningHz: number },
  air: Air,
): PortPipe {
  requireAir(air)
  for (const edge of ['widthM', 'heightM', 'depthM'] as const) {
    requireInRange(`box.${edge}`, box[edge], { min: 0.01, max: 10, unit: 'm' })
  }
  requireInRange('port.diameterM', port.diameterM, { min: 0.005, max: 2, unit: 'm' })
  requireTuning(port.tuningHz, 'port.tuningHz')
  const volumeM3 = airShare * box.widthM * box.heightM * box.depthM
  const radiusM = port.diameterM / 2
  const c = air.speedOfSoundMps
  const soundingM = (Math.PI * radiusM ** 2 * c ** 2) / ((2 * Math.PI * port.tuningHz) ** 2 * volumeM3)
  return { lengthM: soundingM - endsInRadii * radiusM, pipeHz: c / (2 * soundingM) }
}
