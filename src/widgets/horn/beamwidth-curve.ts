import { type BeamwidthPoint, frequencyOfMouthHz } from '../../engine/questions/horn/horn.ts'
import type { AirState } from '../../engine/scene/air.ts'

/** The frequencies that the beamwidth chart shows, Hz. */
export const chartHz: [number, number] = [28, 18000]

/** Where a pattern that is nowhere in front 6 dB down is drawn: the whole front half. */
export const allRoundDeg = 180

/**
 * One mouth's beamwidth against frequency, from the curve that all mouths of this coverage share. The curve ends where
 * the chart does; below its first point every direction in front is alike. The usual air unless given.
 */
export function beamwidthCurve(points: BeamwidthPoint[], mouthM: number, air?: AirState): { x: number; y: number }[] {
  const curve = points
    .map(({ mouthOverWavelength, beamwidthDeg }) => ({
      x: frequencyOfMouthHz(mouthOverWavelength, mouthM, air),
      y: beamwidthDeg ?? allRoundDeg,
    }))
    .filter(({ x }) => x >= chartHz[0] && x <= chartHz[1])
  const [first] = curve
  return first?.y === allRoundDeg ? [{ x: chartHz[0], y: allRoundDeg }, ...curve] : curve
}

/** The drawn beamwidth at the point of a curve nearest to a frequency, degrees; all round for an empty curve. */
export function beamwidthOnCurve(curve: { x: number; y: number }[], frequencyHz: number): number {
  const away = (x: number) => Math.abs(Math.log(x / frequencyHz))
  const [first, ...rest] = curve
  if (!first) return allRoundDeg
  return rest.reduce((a, b) => (away(b.x) < away(a.x) ? b : a), first).y
}
