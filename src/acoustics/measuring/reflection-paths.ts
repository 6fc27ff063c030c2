import { dipsHz, risesHz } from '../field/path-interference.ts'
import type { Air } from '../medium/air.ts'
import { requireAir } from '../medium/air.ts'
import { requireInRange } from '../numeric-range.ts'
import { dipRangeHz, type NarrowDip } from './narrow-dips.ts'

/** One place of a comparison, as the reader measured it with a tape. What is not given is not there, or not known. */
export type PlaceGeometry = {
  /** From the loudspeaker's front to the microphone, m. */
  distanceM: number
  /** Height of the microphone above the floor, m; 0 lies on it. */
  heightM?: number
  /** From the microphone on to a wall on the far side, away from the loudspeaker, m. */
  wallBeyondM?: number
  /** From the line between loudspeaker and microphone to a wall along it, m. */
  wallBesideM?: number
}

/** Both places, and the loudspeaker. */
export type ComparedGeometry = {
  /** Middle of the loudspeaker above the floor, m. */
  sourceHeightM?: number
  boxDepthM?: number
  /** From the loudspeaker's front back to a wall behind the box, as the place in front has it, m. */
  wallBehindBoxM?: number
  front: PlaceGeometry
  behind: PlaceGeometry
}

export type PathCause = 'floor' | 'wall-beyond' | 'wall-beside' | 'wall-behind-box' | 'box-depth'

/** A second way from the loudspeaker to a place, and how much longer it is than the direct one. */
export type ReflectionPath = { place: 'front' | 'behind'; cause: PathCause; extraM: number; directM: number }

/**
 * Second ways that the entered geometry has, by images in flat walls:  floor  √(r² + 4 h_s h_m) − r,  wall beside  √(r² + 4 s²) − r,
 * wall beyond  2 w,  wall behind the box (in front)  2 b,  sound from the back of the box  its depth.
 *
 * @returns  those of at least 1 cm
 * @throws RangeError if a distance is outside 0.1 to 1000 m, or another length outside 0 to 1000 m
 * Source:   mirror images, any textbook.
 */
export function reflectionPaths(geometry: ComparedGeometry): ReflectionPath[] {
  const { sourceHeightM, boxDepthM, wallBehindBoxM } = geometry
  const places = ['front', 'behind'] as const
  return places.flatMap((place) => {
    const { distanceM, heightM, wallBeyondM, wallBesideM } = geometry[place]
    requireInRange(`${place}.distanceM`, distanceM, { min: 0.1, max: 1000, unit: 'm' })
    const lengths = { sourceHeightM, boxDepthM, wallBehindBoxM, heightM, wallBeyondM, wallBesideM }
    for (const [name, length] of Object.entries(lengths)) {
      if (length !== undefined) requireInRange(name, length, { min: 0, max: 1000, unit: 'm' })
    }
    const longer = (squareM2: number): number => Math.sqrt(distanceM ** 2 + squareM2) - distanceM
    const extra: [PathCause, number | undefined][] = [
      ['floor', sourceHeightM !== undefined && heightM !== undefined ? longer(4 * sourceHeightM * heightM) : undefined],
      ['wall-beyond', wallBeyondM === undefined ? undefined : 2 * wallBeyondM],
      ['wall-beside', wallBesideM === undefined ? undefined : longer(4 * wallBesideM ** 2)],
      ['wall-behind-box', wallBehindBoxM === undefined || place === 'behind' ? undefined : 2 * wallBehindBoxM],
      ['box-depth', boxDepthM],
    ]
    return extra.flatMap(([cause, extraM]) =>
      extraM !== undefined && extraM >= 0.01 ? [{ place, cause, extraM, directM: distanceM }] : [],
    )
  })
}

/** A dip, the detour of a single reflection that would make it its lowest dip, and the entered way that it fits, if there is one. */
export type ExplainedDip = NarrowDip & {
  /** c / (2 f), m: the wanted detour if the dip is the lowest of its reflection. */
  extraM: number
  fits: (ReflectionPath & { /** 0 for the lowest dip of that way, 1 for the next. */ order: number }) | null
}

/** How well a detour is known from tape: so much, m, and such a share of it. */
const tapeM = 0.04
const tapeShare = 0.05
/** How well the frequency of a dip is known, as a share: half a detail band and the slope of what lies under it. */
const frequencyShare = 0.03
/**
 * A rise is broad: up to a sixth of a turn from its middle the two waves still add to 87 % of the most or more, √3/2 for equal ones. On a
 * slope of the loudspeaker's own its highest place lies anywhere in there.
 */
const riseTurns = 1 / 6
/** A way is known by its first three dips; once it is, its further ones are told by it too. */
const highestOrder = 2

/**
 * Tests dips against the entered geometry. A dip fits a way of its place if it lies where that way's first, second or third dip does,
 * (2n + 1) c / (2Δ), within what tape and analysis can tell, and if, for a second or third, all lower ones in the range are there too.
 * Further dips of a way that is known so fit it as well; and where it lifts the level at its place, round n c / Δ, the difference only looks
 * as if there were a dip at the other one: that is left out.
 *
 * @param dips   as narrowDips gives them
 * @param paths  as reflectionPaths gives them
 * @param air    gives the speed of sound
 * @returns  the dips in the same order
 * @throws RangeError if the air is not sound
 */
export function explainedDips(dips: readonly NarrowDip[], paths: readonly ReflectionPath[], air: Air): ExplainedDip[] {
  const c = requireAir(air).speedOfSoundMps
  const upToHz = dipRangeHz.to * 1.2
  const first = dips.map((dip) => ({
    dip,
    fits: fitOf(dip, dips, paths, (path) => dipsHz(path.extraM, upToHz, air).slice(0, highestOrder + 1)),
  }))
  const known = [...new Set(first.flatMap(({ fits }) => (fits ? [fits.path] : [])))]
  return first.flatMap(({ dip, fits }): ExplainedDip[] => {
    const found = fits ?? fitOf(dip, dips, known, (path) => toldApartHz(path, dipsHz(path.extraM, upToHz, air)))
    const isRise = known.some(
      (path) =>
        path.place !== dip.place &&
        risesHz(path.extraM, upToHz, air).some(
          (riseHz) =>
            Math.abs(Math.log(dip.frequencyHz / riseHz)) <= 2 * allowedMiss(path) ||
            Math.abs(dip.frequencyHz - riseHz) <= (riseTurns * c) / path.extraM,
        ),
    )
    if (!found && isRise) return []
    return [{ ...dip, extraM: c / (2 * dip.frequencyHz), fits: found ? { ...found.path, order: found.order } : null }]
  })
}

/** The way whose dip lies nearest to a dip, among those that it can be. */
function fitOf(
  dip: NarrowDip,
  dips: readonly NarrowDip[],
  paths: readonly ReflectionPath[],
  dipsOf: (path: ReflectionPath) => number[],
): { path: ReflectionPath; order: number } | undefined {
  let best: { path: ReflectionPath; order: number; miss: number } | undefined
  for (const path of paths) {
    if (path.place !== dip.place) continue
    const allowed = allowedMiss(path)
    const expected = dipsOf(path)
    for (const [order, expectedHz] of expected.entries()) {
      const miss = Math.abs(Math.log(dip.frequencyHz / expectedHz)) / allowed
      if (miss > 1 || (best && best.miss <= miss)) continue
      const lower = expected.slice(0, Math.min(order, highestOrder))
      if (lower.every((lowerHz) => lowerHz < dipRangeHz.from * 1.1 || isThere(dips, dip, lowerHz, allowed))) {
        best = { path, order, miss }
      }
    }
  }
  return best
}

/** Of the dips of a way those that are further from each other than twice what they can be missed by. */
const toldApartHz = (path: ReflectionPath, frequenciesHz: number[]): number[] =>
  frequenciesHz.filter((_, order) => 1 / (2 * order + 1) > 2 * allowedMiss(path))

const allowedMiss = ({ extraM }: ReflectionPath): number => Math.hypot(frequencyShare, tapeShare, tapeM / extraM)

const isThere = (dips: readonly NarrowDip[], { place }: NarrowDip, frequencyHz: number, allowed: number): boolean =>
  dips.some((dip) => dip.place === place && Math.abs(Math.log(dip.frequencyHz / frequencyHz)) <= allowed)
