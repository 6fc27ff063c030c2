/** A rectangle on the screen, px. */
export type LabelBox = { left: number; top: number; right: number; bottom: number }
/** A straight piece of a line that no label may lie on, px. */
export type LineSegment = { x1: number; y1: number; x2: number; y2: number }

/** How far a label is moved from where it was meant to stand, px. */
export type LabelShift = { x: number; y: number }

export interface LabelAsk {
  box: LabelBox
  /** How far it may be moved, px; 0: it stays. */
  reachPx: number
  /** Whether the drawing can do without it: it is then left out where there is no room. */
  spare: boolean
  /** The field that it stays in, if not that of the others. */
  frame?: LabelBox
  /** Where it was moved to last; kept as long as that is clear, so that labels do not jump. */
  last?: LabelShift | undefined
}

/** Air round every label, px. */
const airPx = 2

const moved = ({ left, top, right, bottom }: LabelBox, { x, y }: LabelShift): LabelBox => ({
  left: left + x,
  right: right + x,
  top: top + y,
  bottom: bottom + y,
})
const overlap = (a: LabelBox, b: LabelBox): boolean =>
  a.left < b.right && a.right > b.left && a.top < b.bottom && a.bottom > b.top
const within = (a: LabelBox, frame: LabelBox): boolean =>
  a.left >= frame.left && a.right <= frame.right && a.top >= frame.top && a.bottom <= frame.bottom

/** Whether a line crosses or enters a box: the line is cut at the four edges, and something is left of it. */
export function segmentMeets({ x1, y1, x2, y2 }: LineSegment, { left, top, right, bottom }: LabelBox): boolean {
  let [from, to] = [0, 1]
  const cuts = [
    [x1 - x2, x1 - left],
    [x2 - x1, right - x1],
    [y1 - y2, y1 - top],
    [y2 - y1, bottom - y1],
  ] as const
  for (const [slope, room] of cuts) {
    if (slope === 0) {
      if (room < 0) return false
    } else if (slope < 0) from = Math.max(from, room / slope)
    else to = Math.min(to, room / slope)
    if (from > to) return false
  }
  return true
}

/** Places round the first one, the nearest first; up and down come before sideways at the same distance. */
const shifts: readonly LabelShift[] = Array.from({ length: 40 }, (_, ring) =>
  Array.from({ length: 16 }, (_, turn) => {
    const [distance, angleRad] = [4 * (ring + 1), (turn * Math.PI) / 8 + Math.PI / 2]
    return { x: Math.round(distance * Math.cos(angleRad)), y: Math.round(distance * Math.sin(angleRad)) }
  }),
).flat()

/**
 * Finds a place for every label of a drawing where it lies on no line, mark or other label and stays in the frame: where it
 * was meant to stand, or the nearest clear place round it. Asked for in order of importance.
 *
 * @returns  for each label its shift, or undefined for one that is left out; a label without any clear place, that the
 *           drawing cannot do without, stays where it was meant to stand
 */
export function labelPlaces(
  labels: readonly LabelAsk[],
  segments: readonly LineSegment[],
  marks: readonly LabelBox[],
  frame: LabelBox,
): (LabelShift | undefined)[] {
  const taken = [...marks]
  return labels.map(({ box, reachPx, spare, last, frame: own = frame }) => {
    const near: LabelBox = {
      left: box.left - reachPx - airPx,
      right: box.right + reachPx + airPx,
      top: box.top - reachPx - airPx,
      bottom: box.bottom + reachPx + airPx,
    }
    const lines = reachPx > 0 || spare ? segments.filter((segment) => segmentMeets(segment, near)) : []
    const boxes = taken.filter((other) => overlap(other, near))
    const clear = (shift: LabelShift) => {
      const { left, top, right, bottom } = moved(box, shift)
      const aired = { left: left - airPx, top: top - airPx, right: right + airPx, bottom: bottom + airPx }
      return (
        ((reachPx === 0 && !spare) || within({ left, top, right, bottom }, own)) &&
        !boxes.some((other) => overlap(other, aired)) &&
        !lines.some((segment) => segmentMeets(segment, aired))
      )
    }
    const meant = { x: 0, y: 0 }
    const place = clear(meant)
      ? meant
      : last && Math.hypot(last.x, last.y) <= reachPx && clear(last)
        ? last
        : shifts.find((shift) => Math.hypot(shift.x, shift.y) <= reachPx && clear(shift))
    if (!place && spare) return undefined
    taken.push(moved(box, place ?? meant))
    return place ?? meant
  })
}
