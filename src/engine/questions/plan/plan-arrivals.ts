import { add, type Complex, multiply, scale } from '../../../acoustics/complex.ts'
import { axesOf } from '../../../acoustics/field/hall-axes.ts'
import { toSourcePoint } from '../../../acoustics/field/placed-source.ts'
import { reflectionAt, type WallReflection } from '../../../acoustics/field/wall-admittance.ts'
import type { GroundReflection, PlacedSource, Point, Radiation } from '../../../acoustics/index.ts'
import type { PlanScene } from './plan-scene.ts'

// What of one source arrives at one place, way by way.

/** The direct sound and the ground's, which is what goes to the listener's mirror image; of a crowd what it leaves of either. */
export function groundArrivals(
  source: PlacedSource,
  frequencyHz: number,
  point: Point,
  ground: GroundReflection,
  left = { direct: 1, ground: 1 },
) {
  const radiation = source.radiation(frequencyHz)
  const direct = pressureOf(source, radiation, point)
  const thrownBack = left.ground > 0 ? offGround(source, radiation, point, ground) : { re: 0, im: 0 }
  return add(scale(direct, left.direct), scale(thrownBack, left.ground))
}

function offGround(source: PlacedSource, radiation: Radiation, point: Point, ground: GroundReflection): Complex {
  const { position } = source
  const mirrored = { ...point, yM: -point.yM }
  const upM = position.yM - mirrored.yM
  const pathM = Math.hypot(position.xM - point.xM, upM, position.zM - point.zM)
  const reflected = ground(radiation.frequencyHz, pathM, pathM === 0 ? 1 : Math.min(1, Math.abs(upM) / pathM))
  return multiply(reflected, pressureOf(source, radiation, mirrored))
}

/** The direct sound of a source under no drive. */
export const pressureOf = (source: PlacedSource, radiation: Radiation, point: Point): Complex =>
  radiation.pressureAt(toSourcePoint(source, point))

/** Reflections by surface, each wall's with what the floor makes of it, and the direct sound, of one source at one frequency: what dips are explained by. */
export function firstArrivals(
  { hall: room, ground }: PlanScene,
  source: PlacedSource,
  frequencyHz: number,
  point: Point,
): { direct: { re: number; im: number }; by: Record<string, { re: number; im: number }> } {
  const radiation = source.radiation(frequencyHz)
  const by: Record<string, { re: number; im: number }> = {}
  /** The factor of a reflection at the angle at which it arrives at a place's mirror image. */
  const thrownBack = (wall: WallReflection, along: keyof Point, mirrored: Point): number => {
    const off = {
      xM: mirrored.xM - source.position.xM,
      yM: mirrored.yM - source.position.yM,
      zM: mirrored.zM - source.position.zM,
    }
    return reflectionAt(wall, Math.abs(off[along]) / Math.hypot(off.xM, off.yM, off.zM))
  }
  const bounce = (surface: string, mirrored: Point, factorAt: (mirrored: Point) => number, floor?: WallReflection) => {
    const direct = pressureOf(source, radiation, mirrored)
    const own = factorAt(mirrored)
    const sum = { re: own * direct.re, im: own * direct.im }
    if (floor) {
      const lower = { ...mirrored, yM: -mirrored.yM }
      const below = pressureOf(source, radiation, lower)
      const both = factorAt(lower) * thrownBack(floor, 'yM', lower)
      sum.re += both * below.re
      sum.im += both * below.im
    }
    by[surface] = sum
  }
  if (room) {
    const { hall } = room
    const [x, y, z] = axesOf(hall, frequencyHz)
    const at = (wall: WallReflection, along: keyof Point) => (mirrored: Point) => thrownBack(wall, along, mirrored)
    bounce('wallLeft', { ...point, xM: -hall.widthM - point.xM }, at(x.low, 'xM'), y.low)
    bounce('wallRight', { ...point, xM: hall.widthM - point.xM }, at(x.high, 'xM'), y.low)
    bounce('floor', { ...point, yM: -point.yM }, at(y.low, 'yM'))
    bounce('ceiling', { ...point, yM: 2 * hall.heightM - point.yM }, at(y.high, 'yM'))
    bounce('wallBehind', { ...point, zM: -point.zM }, at(z.low, 'zM'), y.low)
    bounce('wallOpposite', { ...point, zM: 2 * hall.lengthM - point.zM }, at(z.high, 'zM'), y.low)
  } else if (ground) by['floor'] = offGround(source, radiation, point, ground)
  return { direct: pressureOf(source, radiation, point), by }
}
