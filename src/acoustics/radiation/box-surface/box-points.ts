import type { BoxSize } from '../cabinet.ts'
import type { EdgeRule, SideRule } from './edge-rule.ts'

/** A rectangle of a surface, such as a quarter of a face of a box about the origin: points of two rules crossed. */
export type FacePart = {
  /** Axis of its normal, which points up the axis or, with −1, down it, and the two axes along it, as 0, 1, 2 for x, y, z. */
  axis: 0 | 1 | 2
  normal: 1 | -1
  uAxis: 0 | 1 | 2
  vAxis: 0 | 1 | 2
  /** Its place on its own axis, m. */
  atM: number
  u: SideRule
  v: SideRule
  /** Number of its first point; point (i, j) is at first + i · (points of v) + j. */
  first: number
}

/** Points on rectangles. */
export type SurfacePoints = {
  faces: readonly FacePart[]
  count: number
  /** Three numbers a point, m. */
  places: Float64Array
  weightsM2: Float64Array
}

/** The points of the eighth of a box that lies in x > 0, y > 0, z > 0: on a quarter of its front, its right side and its top. */
export type BoxPoints = SurfacePoints & { size: BoxSize; faces: readonly [FacePart, FacePart, FacePart] }

/** Puts the points of the three rules on the three faces. */
export function boxPoints(size: BoxSize, rules: readonly [EdgeRule, EdgeRule, EdgeRule]): BoxPoints {
  const face = (axis: 0 | 1 | 2, uAxis: 0 | 1 | 2, vAxis: 0 | 1 | 2): Omit<FacePart, 'first'> => ({
    axis,
    normal: 1,
    uAxis,
    vAxis,
    atM: rules[axis].halfM,
    u: rules[uAxis],
    v: rules[vAxis],
  })
  const points = surfacePoints([face(2, 0, 1), face(0, 1, 2), face(1, 2, 0)])
  return { ...points, size, faces: points.faces as unknown as BoxPoints['faces'] }
}

/** Numbers the points of rectangles and says where they are. */
export function surfacePoints(parts: readonly Omit<FacePart, 'first'>[]): SurfacePoints {
  let count = 0
  const faces = parts.map((part): FacePart => {
    const first = count
    count += part.u.placesM.length * part.v.placesM.length
    return { ...part, first }
  })
  const places = new Float64Array(3 * count)
  const weightsM2 = new Float64Array(count)
  for (const { axis, uAxis, vAxis, atM, u, v, first } of faces) {
    let at = first
    for (let i = 0; i < u.placesM.length; i++) {
      for (let j = 0; j < v.placesM.length; j++, at++) {
        places[3 * at + axis] = atM
        places[3 * at + uAxis] = u.placesM[i] as number
        places[3 * at + vAxis] = v.placesM[j] as number
        weightsM2[at] = (u.weightsM[i] as number) * (v.weightsM[j] as number)
      }
    }
  }
  return { faces, count, places, weightsM2 }
}
