/** The stretch of distance over which one way of summing hands over to another, m. */
export type HandOver = { fromM: number; toM: number }

/**
 * Share v(r) of what comes later: 0 up to fromM, 1 from toM on, in between the integral of a bell whose spectrum falls fast,
 *
 *   v = x − (8 sin 2πx − sin 4πx)/(12π),  x = (r − fromM)/(toM − fromM)
 *
 * Value and four derivatives join at both ends.
 */
export function handedOver({ fromM, toM }: HandOver, distanceM: number): number {
  const x = (distanceM - fromM) / (toM - fromM)
  if (x <= 0) return 0
  if (x >= 1) return 1
  return x - (8 * Math.sin(2 * Math.PI * x) - Math.sin(4 * Math.PI * x)) / (12 * Math.PI)
}
