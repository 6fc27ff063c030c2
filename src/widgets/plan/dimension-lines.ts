import type { PlanContext } from '../../charts/plan-context.ts'
import { boxSize } from '../../state/plan-faults.ts'
import type { Plan, PlanCabinet, PlanKnown } from '../../state/plan-schema.ts'
import { floorSpots } from '../../state/plan-spots.ts'

// What of a plan is measured with a tape, as lines on its drawing: the hall's sides, every box from its walls, every place from the nearest box.

/** A line with its length written at it, px; `upward` reads from below. */
export type DimensionLine = {
  kind: 'hall' | 'box' | 'place'
  /** Of which box or place; '' for the hall's. */
  id: string
  from: { x: number; y: number }
  to: { x: number; y: number }
  label: { text: string; x: number; y: number; upward: boolean }
}

/** A rectangle that no label may cover, px. */
export type TakenRoom = { left: number; right: number; top: number; bottom: number }

/** Size of the letters, px, and the room that one takes on average. */
export const letterPx = 12
const letterWidthPx = 6.6

/** How far the hall's lines lie off its walls, px, with room for a label between; and labels off their lines. */
const offWallPx = 22
const offLinePx = 6

/** Where along its line a label may stand, the best first. */
const shares = [0.5, 0.35, 0.65, 0.2, 0.8]

/** The words of a dimension line. */
export type DimensionWords = {
  hallLength: (lengthM: number) => string
  hallWidth: (widthM: number) => string
  length: (lengthM: number) => string
}

/** The room that a label takes, px: it stands over its place, or to the left of it if it reads upward. */
export function roomOf({ text, x, y, upward }: DimensionLine['label']): TakenRoom {
  const half = (text.length * letterWidthPx) / 2
  return upward
    ? { left: x - letterPx, right: x + 2, top: y - half, bottom: y + half }
    : { left: x - half, right: x + half, top: y - letterPx, bottom: y + 2 }
}

const overlap = (a: TakenRoom, b: TakenRoom): boolean =>
  a.left < b.right && a.right > b.left && a.top < b.bottom && a.bottom > b.top

/** Marks of the drawing that are not to be written over: boxes, places and the names beside them. */
function marksOf(plan: Plan, known: PlanKnown, view: PlanContext): TakenRoom[] {
  const boxes = plan.cabinets.map((cabinet) => {
    const { x, y, halfPx } = boxOnView(plan, cabinet, known, view)
    return { left: x - 2 * halfPx, right: x + 14, top: y - halfPx, bottom: y + halfPx + 20 }
  })
  const places = plan.places.flatMap(({ xM, zM, name }) => {
    const [x, y] = [view.left(zM), view.top(xM)]
    const half = Math.max(4, Math.max(name.length, 8) * letterWidthPx * 0.6)
    const above = y > 48
    return [
      { left: x - 10, right: x + 10, top: y - 10, bottom: y + 10 },
      { left: x - half, right: x + half, top: above ? y - 46 : y + 12, bottom: above ? y - 8 : y + 48 },
    ]
  })
  return [...boxes, ...places, ...stageName(plan, view)]
}

/** Where the stage's name stands, three quarters along it. */
function stageName({ stage }: Plan, view: PlanContext): TakenRoom[] {
  if (!stage) return []
  const [x, y] = [view.left(stage.zM), view.top(stage.xM + stage.widthM / 4)]
  return [{ left: x - 24, right: x + 24, top: y - 12, bottom: y + 12 }]
}

const boxOnView = (plan: Plan, cabinet: PlanCabinet, known: PlanKnown, view: PlanContext) => {
  const size = boxSize(plan, cabinet.box, known)
  const halfPx = (Math.max(size?.widthM ?? 0.5, size?.depthM ?? 0.5) * view.pxPerM) / 2
  return { x: view.left(cabinet.zM), y: view.top(cabinet.xM), halfPx }
}

type Wanted = Omit<DimensionLine, 'label'> & { text: string }

/** Which of two places for a line crosses fewer marks; the first, where it is alike. */
function clearer(marks: readonly TakenRoom[], [first, second]: readonly [number, number], along: 'x' | 'y'): number {
  const crossed = (at: number) =>
    marks.filter((room) => (along === 'x' ? room.top < at && room.bottom > at : room.left < at && room.right > at))
      .length
  return crossed(second) < crossed(first) ? second : first
}

/** The lines that a plan has, in order of importance, the hall's at the side where they cross least. Boxes that stand on each other are one. */
function wantedLines(plan: Plan, view: PlanContext, words: DimensionWords, marks: readonly TakenRoom[]): Wanted[] {
  const { ground, places } = plan
  const [left, right] = [view.left(0), view.left(ground.lengthM)]
  const [top, bottom] = [view.top(-ground.widthM / 2), view.top(ground.widthM / 2)]
  const lengthY = clearer(marks, [bottom - offWallPx, top + offWallPx], 'x')
  const widthX = clearer(marks, [right - offWallPx, left + offWallPx], 'y')
  const hall: Wanted[] = [
    {
      kind: 'hall',
      id: '',
      from: { x: left, y: lengthY },
      to: { x: right, y: lengthY },
      text: words.hallLength(ground.lengthM),
    },
    {
      kind: 'hall',
      id: '',
      from: { x: widthX, y: bottom },
      to: { x: widthX, y: top },
      text: words.hallWidth(ground.widthM),
    },
  ]
  const spots = floorSpots(plan)
  const boxes = spots.flatMap(({ ids, xM, zM }): Wanted[] => {
    const id = ids[0] as string
    const at = { x: view.left(zM), y: view.top(xM) }
    const isLeft = xM < 0
    return [
      { kind: 'box', id, from: { x: left, y: at.y }, to: at, text: words.length(zM) },
      {
        kind: 'box',
        id,
        from: { x: at.x, y: isLeft ? top : bottom },
        to: at,
        text: words.length(ground.widthM / 2 - Math.abs(xM)),
      },
    ]
  })
  const toBoxes = places.flatMap(({ id, xM, zM }): Wanted[] => {
    const [nearest] = spots
      .map((spot) => ({ spot, distanceM: Math.hypot(spot.xM - xM, spot.zM - zM) }))
      .sort((a, b) => a.distanceM - b.distanceM)
    if (!nearest) return []
    const { spot, distanceM } = nearest
    return [
      {
        kind: 'place',
        id,
        from: { x: view.left(zM), y: view.top(xM) },
        to: { x: view.left(spot.zM), y: view.top(spot.xM) },
        text: words.length(distanceM),
      },
    ]
  })
  return [...hall, ...boxes, ...toBoxes]
}

/**
 * The dimension lines of a plan on a drawing. One whose label would lie on a mark or on another label, wherever along the line it stood, is left
 * out: the setting sheet has all numbers.
 *
 * @param view   the drawing
 * @param words  lengths in m → what is written
 */
export function dimensionLines(
  plan: Plan,
  known: PlanKnown,
  view: PlanContext,
  words: DimensionWords,
): DimensionLine[] {
  const marks = marksOf(plan, known, view)
  const taken = [...marks]
  const drawing = { left: 0, top: 0, right: view.widthPx, bottom: view.heightPx }
  const isWithin = (room: TakenRoom) =>
    room.left >= drawing.left && room.right <= drawing.right && room.top >= drawing.top && room.bottom <= drawing.bottom
  return wantedLines(plan, view, words, marks).flatMap(({ text, ...line }): DimensionLine[] => {
    const { from, to } = line
    const upward = from.x === to.x
    const lengthPx = Math.abs(to.x - from.x) + Math.abs(to.y - from.y)
    // A line that is shorter than its words says nothing.
    if (lengthPx < text.length * letterWidthPx * 0.6) return []
    for (const share of shares) {
      const label = {
        text,
        x: from.x + share * (to.x - from.x) - (upward ? offLinePx : 0),
        y: from.y + share * (to.y - from.y) - (upward ? 0 : offLinePx),
        upward,
      }
      const room = roomOf(label)
      if (!isWithin(room) || taken.some((other) => overlap(room, other))) continue
      taken.push(room)
      return [{ ...line, label }]
    }
    return []
  })
}
