import { requireInRange } from '../numeric-range.ts'
import type { Point } from '../point.ts'
import { distanceToFootprintM, footprints, type PlanPoint } from './footprint.ts'
import type { Rig, RigCabinet } from './rig.ts'

/**
 * Where a listener stands, polar on the plan about the middle of the rig's front (x = 0, z = 0):
 * angle 0 in front, positive toward +x, ±π behind.
 */
export type ListeningPlace = { angleRad: number; distanceM: number }

/**
 * From where a distance is measured on the plan: the middle of the rig's front, or the nearest point of any cabinet,
 * as a tape held against the box would tell.
 */
export type DistanceDatum = 'front-face' | 'nearest-face'

/**
 * The place as a point in the rig's coordinates.
 *
 * @param place       any angle; distance 0 … 10 000 m
 * @param earHeightM  height above the floor, 0 … 100 m
 * @throws RangeError for arguments outside these ranges
 */
export function placePoint(place: ListeningPlace, earHeightM: number): Point {
  requireInRange('earHeightM', earHeightM, { min: 0, max: 100, unit: 'm' })
  const { xM, zM } = planPoint(place)
  return { xM, yM: earHeightM, zM }
}

/**
 * The place of a point on the plan: the inverse of placePoint.
 *
 * @param point  finite coordinates, m; the origin itself counts as straight in front
 * @returns      angle −π … π, distance 0 or more
 * @throws RangeError if a coordinate is not finite
 */
export function placeAt(point: PlanPoint): ListeningPlace {
  const xM = requireInRange('point.xM', point.xM, { unit: 'm' })
  const zM = requireInRange('point.zM', point.zM, { unit: 'm' })
  return { angleRad: Math.atan2(xM, zM), distanceM: Math.hypot(xM, zM) }
}

/**
 * The point straight in front of the rig at a distance from the middle of its front.
 *
 * @param distanceM   0 … 10 000 m
 * @param earHeightM  0 … 100 m
 * @throws RangeError for arguments outside these ranges
 */
export function frontPoint(distanceM: number, earHeightM: number): Point {
  return placePoint({ angleRad: 0, distanceM }, earHeightM)
}

/**
 * Distance of a place on the plan, m, measured from the datum; 0 within a footprint for 'nearest-face'.
 *
 * @throws RangeError for a place out of range or an unknown datum
 */
export function measuredDistanceM(place: ListeningPlace, rig: Rig, datum: DistanceDatum): number {
  const point = planPoint(place)
  if (checkDatum(datum) === 'front-face') return place.distanceM
  return Math.min(...rig.cabinets.map((cabinet) => distanceToFootprintM(cabinet, point)))
}

/**
 * The place in a direction that a tape finds at a distance: the inverse of measuredDistanceM.
 *
 * With 'front-face' it has that distanceM. With 'nearest-face' it is the outermost place on the ray whose distance to the
 * nearest cabinet is the one asked for.
 *
 * @param measuredM  0 … 10 000 m
 * @throws RangeError for arguments out of range, an unknown datum, or a rig whose ray never comes so near to a cabinet (the
 *         front axis between two stacks far apart, for instance)
 */
export function placeAtMeasuredDistance(
  angleRad: number,
  measuredM: number,
  rig: Rig,
  datum: DistanceDatum,
): ListeningPlace {
  const place = { angleRad, distanceM: measuredM }
  planPoint(place)
  if (checkDatum(datum) === 'front-face') return place
  const crossings = rig.cabinets.map((cabinet) =>
    outermostAtDistance(cabinet, angleRad, measuredM, farM(rig) + measuredM),
  )
  const found = crossings.filter((distanceM) => distanceM !== undefined)
  if (found.length === 0) {
    const nearest = `no place on the ${angleRad === 0 ? 'front axis' : 'ray'} is as near to a cabinet`
    throw new RangeError(`the measured distance is ${measuredM} m; ${nearest}, allowed is a larger distance`)
  }
  return { angleRad, distanceM: Math.max(...found) }
}

/**
 * The place straight in front that a tape finds at the same distance as the given place: see placeAtMeasuredDistance.
 *
 * @throws RangeError for a place out of range, or as placeAtMeasuredDistance
 */
export function frontPlaceAtSameDistance(place: ListeningPlace, rig: Rig, datum: DistanceDatum): ListeningPlace {
  return placeAtMeasuredDistance(0, measuredDistanceM(place, rig, datum), rig, datum)
}

/**
 * The place itself, or the nearest one farther out on its ray that keeps clear of every footprint.
 *
 * @param clearanceM  least distance on the plan from every cabinet, 0.001 … 100 m
 * @throws RangeError for arguments out of range
 */
export function clearPlace(place: ListeningPlace, rig: Rig, clearanceM = 0.25): ListeningPlace {
  requireInRange('clearanceM', clearanceM, { min: 0.001, max: 100, unit: 'm' })
  let { xM, zM } = planPoint(place)
  let distanceM = place.distanceM
  const angleRad = place.angleRad
  // A cabinet is convex: once its clearance is crossed outward it is kept, so each cabinet moves the place at most once.
  for (let blocked = true; blocked; ) {
    blocked = false
    for (const cabinet of rig.cabinets) {
      if (distanceToFootprintM(cabinet, { xM, zM }) >= clearanceM) continue
      const outerM = outermostAtDistance(cabinet, angleRad, clearanceM, farM(rig) + clearanceM)
      if (outerM === undefined || outerM <= distanceM) continue
      distanceM = outerM
      ;({ xM, zM } = planPoint({ angleRad, distanceM }))
      blocked = true
    }
  }
  return { angleRad, distanceM }
}

/** Walls round a rig on the plan, in its own coordinates, m; ±Infinity where there is none. */
export type PlanWalls = { xMinM: number; xMaxM: number; zMinM: number; zMaxM: number }

/**
 * The place itself, or one that keeps clear of the walls and of every footprint: it stops at a wall, and where a cabinet leaves no
 * room behind it there it moves aside along the wall.
 *
 * @param walls       each behind or beside every cabinet, or ±Infinity; farther apart than twice the clearance
 * @param clearanceM  least distance on the plan from walls and cabinets, 0.001 … 100 m
 * @throws RangeError for arguments out of range
 */
export function placeBetweenWalls(
  place: ListeningPlace,
  rig: Rig,
  walls: PlanWalls,
  clearanceM = 0.25,
): ListeningPlace {
  const clear = clearPlace(place, rig, clearanceM)
  const outer = planPoint(clear)
  const between = (name: string, value: number, minM: number, maxM: number) => {
    // Not requireInRange: a wall that is not there is at infinity.
    if (!(maxM - minM > 2 * clearanceM)) {
      throw new RangeError(
        `walls are from ${minM} to ${maxM} m in ${name}; allowed is more than ${2 * clearanceM} m apart`,
      )
    }
    return Math.min(maxM - clearanceM, Math.max(minM + clearanceM, value))
  }
  const xM = between('x', outer.xM, walls.xMinM, walls.xMaxM)
  const nearestZM = between('z', outer.zM, walls.zMinM, walls.zMaxM)
  if (xM === outer.xM && nearestZM === outer.zM) return clear
  const isClear = (x: number) =>
    rig.cabinets.every((cabinet) => distanceToFootprintM(cabinet, { xM: x, zM: nearestZM }) >= clearanceM)
  if (isClear(xM)) return placeAt({ xM, zM: nearestZM })
  const side = xM < 0 ? -1 : 1
  let [low, high] = [Math.abs(xM), farM(rig) + clearanceM]
  for (let round = 0; round < 60; round++) {
    const middle = (low + high) / 2
    if (isClear(side * middle)) high = middle
    else low = middle
  }
  return placeAt({ xM: side * high, zM: nearestZM })
}

const planPoint = (place: ListeningPlace): PlanPoint => {
  requireInRange('place.angleRad', place.angleRad, { unit: 'rad' })
  requireInRange('place.distanceM', place.distanceM, { min: 0, max: 1e4, unit: 'm' })
  return onRay(place.angleRad, place.distanceM)
}

const onRay = (angleRad: number, distanceM: number): PlanPoint => ({
  xM: distanceM * Math.sin(angleRad),
  zM: distanceM * Math.cos(angleRad),
})

const checkDatum = (datum: DistanceDatum): DistanceDatum => {
  if (datum === 'front-face' || datum === 'nearest-face') return datum
  throw new RangeError(`datum is ${String(datum)}; allowed is 'front-face' or 'nearest-face'`)
}

/** A distance from the origin beyond every cabinet, m. */
const farM = (rig: Rig): number =>
  Math.max(...footprints(rig).flatMap(({ corners }) => corners.map(({ xM, zM }) => Math.hypot(xM, zM)))) + 1

/**
 * The outermost place on a ray at a given distance from a cabinet: distance to a convex shape is a convex function
 * along a ray, so its minimum is found by golden section and the crossing beyond it by bisection.
 */
function outermostAtDistance(
  cabinet: RigCabinet,
  angleRad: number,
  wantedM: number,
  beyondM: number,
): number | undefined {
  const gapM = (distanceM: number) => distanceToFootprintM(cabinet, onRay(angleRad, distanceM))
  let low = 0
  let high = beyondM
  const golden = (Math.sqrt(5) - 1) / 2
  for (let round = 0; round < 100; round++) {
    const left = high - golden * (high - low)
    const right = low + golden * (high - low)
    // Inside the box the gap is 0 on a whole stretch; going right on ties ends at its outer end.
    if (gapM(left) < gapM(right)) high = right
    else low = left
  }
  low = gapM(0) < gapM((low + high) / 2) ? 0 : (low + high) / 2
  if (gapM(low) > wantedM + 1e-9) return undefined
  high = beyondM
  for (let round = 0; round < 100 && high - low > 1e-12 * beyondM; round++) {
    const middle = (low + high) / 2
    if (gapM(middle) > wantedM) high = middle
    else low = middle
  }
  return high
}
