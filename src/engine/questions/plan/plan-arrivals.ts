import { axesOf } from '../../../acoustics/field/hall-axes.ts'
import type { PlacedSource, Point, Radiation } from '../../../acoustics/index.ts'
import type { PlanScene } from './plan-scene.ts'

// What of one source arrives at one place, way by way.

/** The direct sound and the ground's, which is what goes to the listener's mirror image. */
export function groundArrivals(source: PlacedSource, frequencyHz: number, point: Point, factor: number) {
  const radiation = source.radiation(frequencyHz)
  const direct = pressureOf(source, radiation, point)
  if (factor === 0) return direct
  const mirrored = pressureOf(source, radiation, { ...point, yM: -point.yM })
  return { re: direct.re + factor * mirrored.re, im: direct.im + factor * mirrored.im }
}

function pressureOf({ position, yawRad }: PlacedSource, radiation: Radiation, point: Point) {
  const [xM, zM] = [point.xM - position.xM, point.zM - position.zM]
  const [cos, sin] = [Math.cos(yawRad), Math.sin(yawRad)]
  return radiation.pressureAt({ xM: xM * cos - zM * sin, yM: point.yM - position.yM, zM: xM * sin + zM * cos })
}

/** Reflections by surface, each wall's with what the floor makes of it, and the direct sound, of one source at one frequency: what dips are explained by. */
export function firstArrivals(
  { hall: room, ground }: PlanScene,
  source: PlacedSource,
  frequencyHz: number,
  point: Point,
): { direct: { re: number; im: number }; by: Record<string, { re: number; im: number }> } {
  const radiation = source.radiation(frequencyHz)
  const by: Record<string, { re: number; im: number }> = {}
  const add = (surface: string, factor: number, mirrored: Point, floor = 0) => {
    const { re, im } = pressureOf(source, radiation, mirrored)
    const below = floor === 0 ? { re: 0, im: 0 } : pressureOf(source, radiation, { ...mirrored, yM: -mirrored.yM })
    by[surface] = { re: factor * (re + floor * below.re), im: factor * (im + floor * below.im) }
  }
  if (room) {
    const { hall } = room
    const [x, y, z] = axesOf(hall, frequencyHz)
    add('wallLeft', x.low, { ...point, xM: -hall.widthM - point.xM }, y.low)
    add('wallRight', x.high, { ...point, xM: hall.widthM - point.xM }, y.low)
    add('floor', y.low, { ...point, yM: -point.yM })
    add('ceiling', y.high, { ...point, yM: 2 * hall.heightM - point.yM })
    add('wallBehind', z.low, { ...point, zM: -point.zM }, y.low)
    add('wallOpposite', z.high, { ...point, zM: 2 * hall.lengthM - point.zM }, y.low)
  } else if (ground) add('floor', Math.sqrt(1 - ground(frequencyHz)), { ...point, yM: -point.yM })
  return { direct: pressureOf(source, radiation, point), by }
}
