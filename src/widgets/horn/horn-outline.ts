/** Tidewater Grange in plan, m: the room that the horn for the bass is drawn in. */
export const hallM = { lengthM: 18, widthM: 11 } as const

/** Depth of straight walls of a coverage angle, from the point where they would meet to a mouth of this width, m. */
export const straightWallDepthM = (mouthM: number, coverageDeg: number): number =>
  mouthM / 2 / Math.tan((coverageDeg * Math.PI) / 360)

/** A horn in plan as an SVG path: from its point at (x, y) out to both ends of the mouth, facing right; m. */
export function hornOutline(mouthM: number, coverageDeg: number, xM: number, yM: number): string {
  const mouthX = (xM + straightWallDepthM(mouthM, coverageDeg)).toFixed(3)
  return `M${mouthX} ${(yM - mouthM / 2).toFixed(3)}L${xM} ${yM}L${mouthX} ${(yM + mouthM / 2).toFixed(3)}`
}
