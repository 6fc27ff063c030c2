import { lateShare } from '../../../acoustics/field/hall-levels.ts'
import {
  type Band,
  bandLevelsDb,
  decayTimeS,
  equalStrengthM,
  type HallSize,
  levelDb,
  type PlanPoint,
} from '../../../acoustics/index.ts'
import type { HallRig } from '../../scene/hall-rig.ts'
import { roomAround } from '../../scene/room.ts'
import { earHeightM } from '../../scene/scene-terms.ts'
import { heardBands } from '../../scene/third-octaves.ts'

// Direct sound against all that the hall adds to it, over the octave about a third octave: one line would hang on a dip of the rig's.

/** What the sound in one octave is made of, as shares of its energy; direct sound and early reflections may cancel in part. */
export type BandShares = {
  direct: number
  /** Early reflections; below lateFromHz all reflections. Never below 0. */
  early: number
  late: number
  /** Part of the sound that the hall brings, 0 … 1; null where direct sound and reflections cancel so that there is less than without a hall. */
  hall: number | null
  /** Level of the whole re the direct sound alone, dB. */
  gainDb: number
}

/** Step between the directions of equalDistancesM, degrees. */
const turnStepDeg = 10

/** How near to a wall the line of equal strength is looked for, m. */
export const offWallM = 0.05

/** Nearer than this one is at the box itself, m. */
const atBoxM = 0.3

/** Lines in a third octave of the line: half of what levels take, for speed; the octave has twelve. */
const linesPerBand = 4

/** Where the search begins if no neighbour has an answer, m. */
const firstGuessM = 2

/** The octave about a third octave: it and its neighbours among heardBands. At 16 kHz the upper one is missing. */
export function octaveAbout(bandHz: number): Band[] {
  const middle = heardBands.findIndex(({ nominalHz }) => nominalHz === bandHz)
  return middle < 0 ? [] : heardBands.slice(Math.max(0, middle - 1), middle + 2)
}

const energy = (levelsDb: ArrayLike<number>) => Array.from(levelsDb).reduce((sum, level) => sum + 10 ** (level / 10), 0)

/** Levels of heardBands, those of some bands alone. */
export const levelsOfBands = (levelsDb: ArrayLike<number>, bands: Band[]): number[] =>
  bands.map(({ nominalHz }) => levelsDb[heardBands.findIndex((band) => band.nominalHz === nominalHz)] as number)

/**
 * The shares of an octave.
 *
 * @param totalDb   levels of its bands, all sound
 * @param directDb  direct sound alone
 * @param lateDb    reverberant sound alone; null where it cannot be told by itself
 */
export function bandShares(totalDb: number[], directDb: number[], lateDb: number[] | null): BandShares {
  const [total, direct, late] = [energy(totalDb), energy(directDb), lateDb ? energy(lateDb) : 0]
  const early = Math.max(0, total - late - direct)
  const sum = direct + early + late
  return {
    direct: direct / sum,
    early: early / sum,
    late: late / sum,
    hall: total > direct ? 1 - direct / total : null,
    gainDb: levelDb(total / direct),
  }
}

/** Reverberant level of each band, dB; null if one of them cannot be told from single resonances. */
export const lateLevelsDb = ({ levels, lateFromHz }: HallRig, bands: Band[]): number[] | null =>
  bands.every(({ lowerHz }) => lowerHz >= lateFromHz)
    ? bands.map(({ centreHz }) => levelDb(levels.lateMeanSquare(centreHz)))
    : null

const kept = new WeakMap<HallRig, Map<string, number[]>>()

/**
 * In every direction, from straight ahead to the right all round, the distance at ear height at which the direct sound of an octave and
 * all that the hall adds are equally strong, m from the middle of the front face. It ends at the walls; 0 where the hall is the stronger
 * from the box on. Kept, because no listener's place is in it.
 */
export function equalDistancesM(standing: HallRig, design: HallSize, bands: Band[]): number[] {
  const known = kept.get(standing) ?? new Map<string, number[]>()
  kept.set(standing, known)
  const key = bands.map(({ nominalHz }) => nominalHz).join()
  let found = known.get(key)
  if (!found) {
    found = []
    const room = roomAround(design)
    for (let turnDeg = 0; turnDeg < 360; turnDeg += turnStepDeg) {
      const turnRad = (turnDeg * Math.PI) / 180
      const [sin, cos] = [Math.sin(turnRad), Math.cos(turnRad)]
      const toWall = (at: number, min: number, max: number) =>
        Math.abs(at) < 1e-9 ? Number.POSITIVE_INFINITY : (at > 0 ? max : min) / at
      const mostM = Math.min(toWall(sin, room.xMinM, room.xMaxM), toWall(cos, room.zMinM, room.zMaxM)) - offWallM
      // The neighbour's is a good start; where there was none, the search begins anew.
      const startM = Math.min(mostM, found.at(-1) || firstGuessM)
      found.push(
        equalStrengthM(
          (distanceM) => strengthsAt(standing, { xM: distanceM * sin, zM: distanceM * cos }, bands),
          startM,
          mostM,
        ),
      )
    }
    known.set(key, found)
  }
  return found
}

/** Direct sound and what the hall adds in some bands at a place; null inside a box or at it. */
function strengthsAt({ levels, free, toHall }: HallRig, { xM, zM }: PlanPoint, bands: Band[]) {
  const place = { xM, yM: earHeightM, zM }
  if (Math.hypot(xM, zM) < atBoxM || !free.isOpen(place)) return null
  const direct = energy(bandLevelsDb((frequencyHz) => free.transferAt(place, frequencyHz), bands, linesPerBand))
  return { direct, hall: energy(levels.bandLevelsDb(toHall(place), bands, linesPerBand)) - direct }
}

/** The even field of the formula, into which all goes that has met a wall once, mean square; the late field is the part of it after the early sound. */
const evenMeanSquare = ({ levels, hall, air }: HallRig, frequencyHz: number): number =>
  levels.lateMeanSquare(frequencyHz) / lateShare(decayTimeS(hall, frequencyHz, air), air)

/** The farthest that the formula is asked for, m. */
const formulaMostM = 200

/**
 * What r_c = √(QR/16π) gives straight ahead at ear height over some bands: direct sound against the even field, which spreads early
 * reflections over the whole hall as well.
 *
 * @returns m
 */
export const formulaDistanceM = (standing: HallRig, bands: Band[]): number =>
  equalStrengthM(
    (distanceM) => ({
      direct: energy(
        bandLevelsDb(
          (frequencyHz) => standing.free.transferAt({ xM: 0, yM: earHeightM, zM: distanceM }, frequencyHz),
          bands,
        ),
      ),
      hall: bands.reduce((sum, { centreHz }) => sum + evenMeanSquare(standing, centreHz), 0),
    }),
    firstGuessM,
    formulaMostM,
  )

/** Levels of heardBands at a place if the hall's part were the even field at all frequencies, dB. */
export const evenLevelsDb = (standing: HallRig, directDb: Float64Array): Float64Array =>
  directDb.map((level, index) =>
    levelDb(10 ** (level / 10) + evenMeanSquare(standing, heardBands[index]?.centreHz as number)),
  )
