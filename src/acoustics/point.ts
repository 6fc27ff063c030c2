/** A place in metres: x to the right, y up, z forward out of the loudspeaker's front face. */
export type Point = { xM: number; yM: number; zM: number }

/** Distance between two places, m. */
export const distanceBetweenM = (a: Point, b: Point): number => Math.hypot(a.xM - b.xM, a.yM - b.yM, a.zM - b.zM)
