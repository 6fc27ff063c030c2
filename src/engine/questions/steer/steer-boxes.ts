import type { Rig, RigCabinet, Way } from '../../../acoustics/field/rig.ts'
import type { Point } from '../../../acoustics/point.ts'
import { rowInHall } from '../../scene/demo-hall.ts'
import type { HallDesign } from '../../scene/hall-scene.ts'
import { rigPlaceIn } from '../../scene/room.ts'
import { earHeightM } from '../../scene/scene-terms.ts'
import {
  type Arrangement,
  listeningRow,
  type SheetLine,
  type SteerBox,
  type SteerError,
  type SteerQuestion,
  type SteerSet,
  type SteerSurroundings,
  steerErrorSize,
  steerRange,
} from './steer-terms.ts'

// Where the boxes of a set stand, what each plays, and what is round them. Light: no calculation of sound.

/** Outer size of one box, m; all 0 for a point. */
export type SteerSize = { widthM: number; heightM: number; depthM: number }

/** What one box covers on the plan, m. */
export type SteerBody = { xMinM: number; xMaxM: number; zMinM: number; zMaxM: number }

/** The walls of a hall on the plan, in the coordinates of the set. */
export type SteerRoom = SteerBody

/** The lowest way of a rig's lowest cabinet, and the cabinet's size. */
export function boxOf(rig: Rig): { cabinet: RigCabinet; way: Way } & SteerSize {
  const cabinet = rig.cabinets.reduce((low, next) => (next.frontCentre.yM < low.frontCentre.yM ? next : low))
  const fromHz = (way: Way) => way.highPass?.frequencyHz ?? 0
  const way = cabinet.ways.reduce((low, next) => (fromHz(next) < fromHz(low) ? next : low))
  const { widthM, heightM, depthM } = cabinet
  return { cabinet, way, widthM, heightM, depthM }
}

/** Size of the boxes of a question: a point has none, and lies on the floor. */
export function sizeOf({ rig, point }: SteerBox): SteerSize {
  if (point) return { widthM: 0, heightM: 0, depthM: 0 }
  const { widthM, heightM, depthM } = boxOf(rig)
  return { widthM, heightM, depthM }
}

/** How far the points of a trio stand side by side, and the middle one behind: about an 18-inch box, m. */
export const pointTrioM = 0.6

/** How many steps of delay each box has; a box of step 0 is one of the first, any other one of the others. */
export function delaySteps({ arrangement, count }: Pick<SteerSet, 'arrangement' | 'count'>): number[] {
  return Array.from({ length: count }, (_, i) => {
    if (arrangement === 'trio') return i === 1 ? 1 : 0
    if (arrangement === 'row') return Math.floor(Math.abs(i - (count - 1) / 2))
    return i
  })
}

/**
 * Where the boxes of a set stand and what each plays: the one place that says so, for drawing, setting sheet and calculation.
 * In a pair, a trio and a line the spacing is from face to face, so that a box that is turned has its face where it was and its
 * body on the other side of it; in a row and left–right a turned box stays where it is and has its face at the rear.
 */
export function boxPlaces(set: SteerSet, size: SteerSize): SheetLine[] {
  const { arrangement, count, spacingM, delayS, inverted, turned, levelDb } = set
  const beside = (i: number, pitchM: number) => (i - (count - 1) / 2) * pitchM
  const faceAt = (i: number, isTurned: boolean): { xM: number; zM: number } => {
    switch (arrangement) {
      case 'pair':
        return { xM: 0, zM: -i * spacingM }
      case 'trio':
        return { xM: beside(i, size.widthM || pointTrioM), zM: i === 1 ? -spacingM : 0 }
      case 'end-fire':
        return { xM: 0, zM: (i - (count - 1)) * spacingM }
      default:
        return { xM: beside(i, spacingM), zM: isTurned ? -size.depthM : 0 }
    }
  }
  const steps = delaySteps(set)
  // Others that are turned up turn the rest down: no box can play louder than in the stack.
  const downDb = steps.some((each) => each > 0) ? Math.max(0, levelDb) : 0
  return steps.map((step, i): SheetLine => {
    const other = step > 0
    const isTurned = other && turned
    const { xM, zM } = faceAt(i, isTurned)
    return {
      box: i + 1,
      xM,
      // Never −0, which a reader would see.
      zM: zM + 0,
      turned: isTurned,
      delayS: step * delayS,
      polarity: other && inverted ? -1 : 1,
      levelDb: (other ? levelDb : 0) - downDb,
    }
  })
}

/** The box to which something happens: the middle one of a trio, else the last. */
export const faultyBox = ({ arrangement, count }: SteerSet): number => (arrangement === 'trio' ? 2 : count)

/** The setting sheet with one box late, down or inverted. The other errors leave it as it is. */
export function faultySheet(sheet: SheetLine[], set: SteerSet, error: SteerError): SheetLine[] {
  return sheet.map((line) => {
    if (line.box !== faultyBox(set)) return line
    if (error === 'late') return { ...line, delayS: line.delayS + steerErrorSize.lateS }
    if (error === 'quiet') return { ...line, levelDb: line.levelDb - steerErrorSize.quietDb }
    if (error === 'polarity') return { ...line, polarity: line.polarity === 1 ? -1 : 1 }
    return line
  })
}

/** A box without anything played: where its face is, its height, and which way it looks. */
export type StandingBox = { xM: number; yM: number; zM: number; turned: boolean }

/** The boxes of a set on the floor. */
export const standing = (sheet: SheetLine[], { heightM }: SteerSize): StandingBox[] =>
  sheet.map(({ xM, zM, turned }) => ({ xM, yM: heightM / 2, zM, turned }))

/** The same number of boxes in one block: columns side by side, at most two high, filled from the left. */
export function stackPlaces(count: number, { widthM, heightM }: SteerSize): StandingBox[] {
  const columns = Math.ceil(count / 2)
  return Array.from({ length: count }, (_, i) => ({
    xM: (Math.floor(i / 2) - (columns - 1) / 2) * widthM,
    yM: heightM * (0.5 + (i % 2)),
    zM: 0,
    turned: false,
  }))
}

/** What the boxes cover on the plan. */
export const bodiesOf = (sheet: readonly Pick<SheetLine, 'xM' | 'zM' | 'turned'>[], size: SteerSize): SteerBody[] =>
  sheet.map(({ xM, zM, turned }) => ({
    xMinM: xM - size.widthM / 2,
    xMaxM: xM + size.widthM / 2,
    zMinM: turned ? zM : zM - size.depthM,
    zMaxM: turned ? zM + size.depthM : zM,
  }))

/** The rectangle that all of them take together. */
export const outlineOf = (bodies: readonly SteerBody[]): SteerBody => ({
  xMinM: Math.min(...bodies.map(({ xMinM }) => xMinM)),
  xMaxM: Math.max(...bodies.map(({ xMaxM }) => xMaxM)),
  zMinM: Math.min(...bodies.map(({ zMinM }) => zMinM)),
  zMaxM: Math.max(...bodies.map(({ zMaxM }) => zMaxM)),
})

/** Less than this is touching, not overlapping, m. */
export const slackM = 1e-6

const overlap = (a: SteerBody, b: SteerBody): boolean =>
  Math.min(a.xMaxM, b.xMaxM) - Math.max(a.xMinM, b.xMinM) > slackM &&
  Math.min(a.zMaxM, b.zMaxM) - Math.max(a.zMinM, b.zMinM) > slackM

/** Whether boxes of a set stand in each other. */
export const anyOverlap = (set: SteerSet, size: SteerSize): boolean => {
  const bodies = bodiesOf(boxPlaces(set, size), size)
  return bodies.some((body, i) => bodies.slice(i + 1).some((other) => overlap(body, other)))
}

const { min: leastM, max: mostM, step: stepM } = steerRange.spacingM
/** On the grid of spacings, without the last digits that binary fractions add. */
export const spacingOnGrid = (steps: number): number => Number((steps * stepM).toFixed(6))

/** The smallest spacing of the grid at which no box stands in another, m. */
export function neededSpacingM(set: Omit<SteerSet, 'spacingM'>, size: SteerSize): number {
  for (let step = Math.round(leastM / stepM); spacingOnGrid(step) <= mostM; step++) {
    if (!anyOverlap({ ...set, spacingM: spacingOnGrid(step) }, size)) return spacingOnGrid(step)
  }
  return mostM
}

/** Where the set's origin stands in a hall, in the hall's coordinates: a row and left–right in the middle, the rest where a rig stands. */
export function originInHall(design: Pick<HallDesign, 'rigAt'>, arrangement: Arrangement): Point {
  if (arrangement !== 'row' && arrangement !== 'left-right') return rigPlaceIn(design)
  return design.rigAt ? { xM: 0, yM: 0, zM: design.rigAt.zM } : rowInHall
}

/** The walls of a hall in the coordinates of the set. */
export function roomOf(design: Pick<HallDesign, 'widthM' | 'lengthM' | 'rigAt'>, arrangement: Arrangement): SteerRoom {
  const { widthM, lengthM } = design
  const { xM, zM } = originInHall(design, arrangement)
  return { xMinM: -widthM / 2 - xM, xMaxM: widthM / 2 - xM, zMinM: -zM, zMaxM: lengthM - zM }
}

/** z of the wall behind a set, m; null without one. */
export function wallZMOf(set: SteerSet, size: SteerSize, surroundings: SteerSurroundings): number | null {
  if (surroundings.kind !== 'wall') return null
  return outlineOf(bodiesOf(boxPlaces(set, size), size)).zMinM - surroundings.gapM
}

/** How far before a wall a place is moved that the wall would cut off, m. */
export const beforeWallM = 0.05

/** The wall that comes with the error of that name. */
export const errorWall = {
  kind: 'wall',
  gapM: steerErrorSize.wallGapM,
  floor: 'hard',
} as const satisfies SteerSurroundings

/** A question with the wall of the error behind its set; a table that it would cut off stands right before it. */
export function withErrorWall(question: SteerQuestion): SteerQuestion {
  const wallZM = wallZMOf(question.set, sizeOf(question), errorWall) as number
  const { xM, zM } = question.behind
  return {
    ...question,
    error: 'none',
    surroundings: errorWall,
    behind: { xM, zM: Math.max(zM, wallZM + beforeWallM) },
  }
}

/** The spots of a listening place, at ear height. */
export const spotsOf = ({ xM, zM }: { xM: number; zM: number }): Point[] =>
  Array.from({ length: listeningRow.spots }, (_, i) => ({
    xM: xM + listeningRow.widthM * (i / (listeningRow.spots - 1) - 0.5),
    yM: earHeightM,
    zM,
  }))

const isInside = ({ xM, zM }: { xM: number; zM: number }, { xMinM, xMaxM, zMinM, zMaxM }: SteerBody): boolean =>
  xM > xMinM + slackM && xM < xMaxM - slackM && zM > zMinM + slackM && zM < zMaxM - slackM

/** Whether a place on the plan is within a box of the set. */
export const isInABox = (place: { xM: number; zM: number }, bodies: readonly SteerBody[]): boolean =>
  bodies.some((body) => isInside(place, body))
