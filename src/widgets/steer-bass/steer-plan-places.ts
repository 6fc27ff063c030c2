import type { PlanPoint } from '../../acoustics/index.ts'
import {
  bodiesOf,
  originInHall,
  roomOf,
  type SteerBody,
  type SteerSize,
  stackPlaces,
} from '../../engine/questions/steer/steer-boxes.ts'
import {
  type Arrangement,
  listeningRow,
  type SteerSurroundings,
  steerPlanM,
  steerRange,
} from '../../engine/questions/steer/steer-terms.ts'
import { furniture, rigInHall } from '../../engine/scene/demo-hall.ts'

/** What the plan shows, in the coordinates of the set: the hall, or a piece of open ground. */
export function planExtent(surroundings: SteerSurroundings, arrangement: Arrangement): SteerBody {
  if (surroundings.kind === 'hall') return roomOf(surroundings.design, arrangement)
  const { halfWidth, behind, forward } = steerPlanM
  return { xMinM: -halfWidth, xMaxM: halfWidth, zMinM: -behind, zMaxM: forward }
}

/** The demo hall's furniture in the coordinates of the set: drawn, not computed with. */
export function furnitureFor(arrangement: Arrangement): (SteerBody & { name: string })[] {
  const origin = originInHall({}, arrangement)
  const [rightM, forwardM] = [rigInHall.xM - origin.xM, rigInHall.zM - origin.zM]
  return furniture.map(({ name, xMinM, xMaxM, zMinM, zMaxM }) => ({
    name,
    xMinM: xMinM + rightM,
    xMaxM: xMaxM + rightM,
    zMinM: zMinM + forwardM,
    zMaxM: zMaxM + forwardM,
  }))
}

/** The columns of the same boxes stacked. */
export const stackBodies = (count: number, size: SteerSize): SteerBody[] =>
  bodiesOf(stackPlaces(count, size), size).filter((_, box) => box % 2 === 0)

/** Floor that boxes take with the ways between them, m². */
export const floorOf = ({ xMinM, xMaxM, zMinM, zMaxM }: SteerBody): number => (xMaxM - xMinM) * (zMaxM - zMinM)

/** How near the middle of a row of listeners or a table may come to a wall along it, and across, m. */
const clearM = { along: listeningRow.widthM / 2 + 0.1, across: 0.2 }

/** The nearest place that the listeners in front or the table may have: in range, off the walls, to 5 cm. */
export function clampedPlace(
  which: 'front' | 'behind',
  { xM, zM }: PlanPoint,
  surroundings: SteerSurroundings,
  arrangement: Arrangement,
  wallZM: number | null,
): PlanPoint {
  const walls =
    surroundings.kind === 'hall'
      ? roomOf(surroundings.design, arrangement)
      : { xMinM: -Infinity, xMaxM: Infinity, zMinM: wallZM ?? -Infinity, zMaxM: Infinity }
  const { asideM, frontM, behindM } = steerRange
  const along = which === 'front' ? frontM : { min: -behindM.max, max: -behindM.min }
  const x = {
    min: Math.max(asideM.min, walls.xMinM + clearM.along),
    max: Math.min(asideM.max, walls.xMaxM - clearM.along),
  }
  const z = {
    min: Math.max(along.min, walls.zMinM + clearM.across),
    max: Math.min(along.max, walls.zMaxM - clearM.across),
  }
  return { xM: within(toFiveCm(xM), x), zM: within(toFiveCm(zM), z) }
}

const toFiveCm = (lengthM: number) => Math.round(lengthM * 20) / 20
/** To the centimetre, and inside: a wall is nowhere near the grid. */
const within = (value: number, { min, max }: { min: number; max: number }) => {
  if (value > max) return Math.floor(100 * max + 1e-6) / 100
  return value < min ? Math.ceil(100 * min - 1e-6) / 100 : value
}

/** Moves labels apart that would stand on each other: rising places, each at least so far from the one before. */
export function spreadOut(places: readonly number[], apart: number): number[] {
  const spread: number[] = []
  for (const place of places) spread.push(Math.max(place, (spread.at(-1) ?? -Infinity) + apart))
  const shift = ((spread.at(-1) ?? 0) - (places.at(-1) ?? 0)) / 2
  return spread.map((place) => place - shift)
}
