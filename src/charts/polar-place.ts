/** How a polar drawing turns levels into distances from its middle: `floorDb` and below is the middle, `ceilingDb` the rim. */
export type PolarScale = { radiusPx: number; floorDb: number; ceilingDb: number }

/** Distance from the middle that shows a level, px; levels beyond the scale stay on its ends. */
export function polarRadiusPx(levelDb: number, { radiusPx, floorDb, ceilingDb }: PolarScale): number {
  const share = (levelDb - floorDb) / (ceilingDb - floorDb)
  return radiusPx * Math.min(1, Math.max(0, share))
}

/** Place of a direction at a distance from the middle, px right and down: 0° points up, positive angles turn right. */
export function polarPlace(angleDeg: number, distancePx: number): { left: number; top: number } {
  const angleRad = (angleDeg * Math.PI) / 180
  return { left: distancePx * Math.sin(angleRad), top: -distancePx * Math.cos(angleRad) }
}

/** SVG path of an arc round the middle, from −sweepDeg to sweepDeg; a whole circle for 180. */
export function polarArcPath(distancePx: number, sweepDeg: number): string {
  const [from, to] = [polarPlace(-sweepDeg, distancePx), polarPlace(sweepDeg, distancePx)]
  const radii = `A${distancePx} ${distancePx} 0`
  if (sweepDeg >= 180) {
    const ahead = polarPlace(0, distancePx)
    return `M${from.left} ${from.top}${radii} 0 1 ${ahead.left} ${ahead.top}${radii} 0 1 ${to.left} ${to.top}`
  }
  return `M${from.left} ${from.top}${radii} ${sweepDeg > 90 ? 1 : 0} 1 ${to.left} ${to.top}`
}

/** SVG path through the levels of a pattern, in the order given. */
export function polarPath(data: { angleDeg: number; levelDb: number }[], scale: PolarScale): string {
  const places = data.map(({ angleDeg, levelDb }) => polarPlace(angleDeg, polarRadiusPx(levelDb, scale)))
  return places.length === 0
    ? ''
    : `M${places.map(({ left, top }) => `${left.toFixed(2)},${top.toFixed(2)}`).join('L')}`
}
