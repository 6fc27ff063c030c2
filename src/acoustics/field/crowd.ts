import { amplitudeRatio } from '../bands/decibels.ts'
import { requireInRange } from '../numeric-range.ts'
import type { Point } from '../point.ts'
import { type PlacedSource, requirePoint, toSourcePoint } from './placed-source.ts'

/** From this angle over the shoulders up a crowd takes nothing of the direct sound, degrees. */
export const crowdClearsDeg = 8

/** How far shoulders, over which sound grazes, lie under the ears, m. */
export const shouldersUnderEarsM = 0.15

/** Nobody stands nearer in front of a box than this, and with so much crowd between it takes all that it can, m (both assumed). */
const freeInFrontM = 1
const wholeCrowdM = 2

/** Nothing is counted below the first, all from the second up, Hz. */
const crowdCountsHz = { from: 500 / Math.SQRT2, whole: 500 }

/**
 * Level that an audience takes from direct sound which passes over it at a small angle, dB, from 500 Hz up:
 *
 *   −20 lg(0.2 + 0.1 γ),  γ in degrees, 0 … 8;  0 above
 *
 * The sound meets its own reflection off the shoulders, which is turned round at grazing incidence. Measured over seated people, 500 Hz to
 * 1.5 kHz. From 1.5 to 4 kHz heads take more or less than that, as they happen to stand.
 *
 * @param elevationDeg  −90 … 90; from below the shoulders as at 0, where the formula ends: it is at least that much
 * @throws RangeError for an angle out of range
 * Source: E. Mommertz's measurements as the Handbook for Sound Engineers has them (Equation 7-72); its numbers from memory, its ends held
 *         against what the text says of them (evidence page)
 */
export function crowdLossDb(elevationDeg: number): number {
  requireInRange('elevationDeg', elevationDeg, { min: -90, max: 90, unit: '°' })
  const angle = Math.min(crowdClearsDeg, Math.max(0, elevationDeg))
  return Math.max(0, -20 * Math.log10(0.2 + 0.1 * angle))
}

/** What of a standing crowd lies between a source and a listener. */
export type CrowdPath = {
  /** The angle at which sound passes over the shoulders, degrees; below 0 through the people. */
  elevationDeg: number
  /** How much of the way leads over the crowd, as a share of what is needed for all of its effect, 0 … 1. */
  share: number
  /** What it takes of the direct sound from 500 Hz up, dB; 0 or more. */
  lossDb: number
  /** How much higher the source would have to be for the crowd to take nothing, m. */
  raiseM: number
}

/**
 * The crowd that stands on the floor (y = 0) in front of a source, up to a listener and beyond him. Behind the source's front nobody stands.
 * The angle is that of the way by the mirror image in the plane of the shoulders, for ears of those who stand: (y_source − y_shoulders)/d.
 * A listener above or below them changes it by as much as the source would.
 *
 * @param standingEarM  ears of those who stand, m above the floor
 * @throws RangeError for a listener whose coordinates are not finite, or farther away than 100 km
 */
export function crowdPath(
  source: Pick<PlacedSource, 'position' | 'yawRad'>,
  listener: Point,
  standingEarM: number,
): CrowdPath {
  const { xM, zM: aheadM } = toSourcePoint(source, requirePoint('listener', listener))
  const alongM = Math.hypot(xM, aheadM)
  const share = aheadM > freeInFrontM ? Math.min(1, (alongM * (1 - freeInFrontM / aheadM)) / wholeCrowdM) : 0
  const overM = source.position.yM - (standingEarM - shouldersUnderEarsM) + (listener.yM - standingEarM)
  const elevationDeg = (Math.atan2(overM, alongM) * 180) / Math.PI
  const clearM = alongM * Math.tan((crowdClearsDeg * Math.PI) / 180)
  return { elevationDeg, share, lossDb: share * crowdLossDb(elevationDeg), raiseM: Math.max(0, clearM - overM) }
}

/** How much of a crowd's effect there is at a frequency, 0 … 1: over half an octave it comes in. */
function countedAt(frequencyHz: number): number {
  const { from, whole } = crowdCountsHz
  if (frequencyHz <= from) return 0
  return frequencyHz >= whole ? 1 : Math.log2(frequencyHz / from) / Math.log2(whole / from)
}

/**
 * What a crowd leaves of what comes at one frequency, as amplitude, 0 … 1: of the direct sound, and of what the ground throws back, on which
 * people stand.
 */
export function leftByCrowd({ share, lossDb }: CrowdPath, frequencyHz: number): { direct: number; ground: number } {
  const counted = countedAt(frequencyHz)
  return { direct: amplitudeRatio(-counted * lossDb), ground: 1 - counted * share }
}
