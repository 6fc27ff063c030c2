import {
  anyOverlap,
  bodiesOf,
  boxPlaces,
  isInABox,
  neededSpacingM,
  outlineOf,
  roomOf,
  type SteerRoom,
  type SteerSize,
  sizeOf,
  slackM,
  spotsOf,
  wallZMOf,
} from './steer-boxes.ts'
import { countRange, type SteerProblem, type SteerQuestion, steerRange } from './steer-terms.ts'

// Whether a question can be answered. Light: no calculation of sound.

/** What of a question is checked. */
export type Checked = Pick<SteerQuestion, 'rig' | 'point' | 'set' | 'surroundings' | 'front' | 'behind' | 'band'>

/** Why a question cannot be answered; null if it can. */
export function steerProblem(question: Checked): SteerProblem | null {
  const { set, surroundings, band } = question
  const { min, max } = countRange[set.arrangement]
  if (!Number.isInteger(set.count) || set.count < min || set.count > max) return { kind: 'count', min, max }
  const values = {
    spacingM: set.spacingM,
    delayS: set.delayS,
    levelDb: set.levelDb,
    ...(surroundings.kind === 'wall' && { gapM: surroundings.gapM }),
  }
  for (const name of ['spacingM', 'delayS', 'levelDb', 'gapM'] as const) {
    const value = values[name]
    if (value === undefined) continue
    const range = steerRange[name]
    if (!(value >= range.min - 1e-9 && value <= range.max + 1e-9)) {
      return { kind: 'range', name, min: range.min, max: range.max }
    }
  }
  const { bandHz } = steerRange
  if (!(band.fromHz >= bandHz.min && band.toHz <= bandHz.max && band.toHz > band.fromHz)) return { kind: 'band' }
  const size = sizeOf(question)
  if (anyOverlap(set, size)) return { kind: 'overlap', neededM: neededSpacingM(set, size) }
  return placeProblem(question, size)
}

function placeProblem({ set, surroundings, front, behind }: Checked, size: SteerSize): SteerProblem | null {
  const bodies = bodiesOf(boxPlaces(set, size), size)
  const room = surroundings.kind === 'hall' ? roomOf(surroundings.design, set.arrangement) : null
  const wallZM = wallZMOf(set, size, surroundings)
  const outline = outlineOf(bodies)
  if (room && !(isWithin(outline.xMinM, outline.zMinM, room) && isWithin(outline.xMaxM, outline.zMaxM, room))) {
    return { kind: 'outside-hall' }
  }
  for (const [which, place] of [
    ['front', front],
    ['behind', behind],
  ] as const) {
    const spots = spotsOf(place)
    if (room && !spots.every(({ xM, zM }) => isWithin(xM, zM, room))) {
      return { kind: 'place', which, why: 'outside-hall' }
    }
    if (wallZM !== null && place.zM < wallZM) return { kind: 'place', which, why: 'behind-wall' }
    if (spots.some((spot) => isInABox(spot, bodies))) return { kind: 'place', which, why: 'in-a-box' }
  }
  return null
}

const isWithin = (xM: number, zM: number, room: SteerRoom): boolean =>
  xM >= room.xMinM - slackM && xM <= room.xMaxM + slackM && zM >= room.zMinM - slackM && zM <= room.zMaxM + slackM
