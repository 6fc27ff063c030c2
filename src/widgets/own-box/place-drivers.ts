import { toGrain } from '../../words/sizes.ts'
import type { BoxDesign, BoxDriver } from './box-design.ts'
import { halfSizeM } from './box-design.ts'

/** A face, m. */
export type Face = { widthM: number; heightM: number }

/** Slack for drivers that touch each other or the edge, m: far below any drawing's accuracy. */
export const slackM = 1e-6

/** Whether a driver leaves the face. */
export function leavesFace(driver: BoxDriver, { widthM, heightM }: Face): boolean {
  const { wideM, highM } = halfSizeM(driver)
  return Math.abs(driver.xM) > widthM / 2 - wideM + slackM || Math.abs(driver.yM) > heightM / 2 - highM + slackM
}

/** Whether two drivers cover the same part of the face. */
export function overlap(a: BoxDriver, b: BoxDriver): boolean {
  const [dx, dy] = [Math.abs(a.xM - b.xM), Math.abs(a.yM - b.yM)]
  const [halfA, halfB] = [halfSizeM(a), halfSizeM(b)]
  if (a.kind === 'cone' && b.kind === 'cone') return Math.hypot(dx, dy) < halfA.wideM + halfB.wideM - slackM
  if (a.kind === 'horn' && b.kind === 'horn') {
    return dx < halfA.wideM + halfB.wideM - slackM && dy < halfA.highM + halfB.highM - slackM
  }
  const [cone, mouth] = a.kind === 'cone' ? [halfA, halfB] : [halfB, halfA]
  const gapM = Math.hypot(Math.max(0, dx - mouth.wideM), Math.max(0, dy - mouth.highM))
  return gapM < cone.wideM - slackM
}

/** Whether a driver can be where it is, among some others. */
const fits = (driver: BoxDriver, others: readonly BoxDriver[], face: Face): boolean =>
  !leavesFace(driver, face) && !others.some((other) => overlap(driver, other))

/** Whether all drivers are on the face, and none on another. */
export const allFit = (drivers: readonly BoxDriver[], face: Face): boolean =>
  drivers.every((driver, index) => fits(driver, drivers.slice(0, index), face))

/** Free places are looked for on a grid of so much, m. */
const gridM = 0.01

/**
 * The drivers where they fit: each stays where it is if it can, else goes to the nearest free place, rather up or down than
 * sideways; if that does not work out, all are laid out anew in rows.
 *
 * @param design  sizes in range; places may be anything
 * @returns       the drivers, and the face that they would need, if there is no room for them on this one
 */
export function placedDrivers(design: Pick<BoxDesign, 'widthM' | 'heightM' | 'drivers'>): {
  drivers: BoxDriver[]
  needs?: Face
} {
  const { drivers } = design
  if (allFit(drivers, design)) return { drivers }
  const placed: BoxDriver[] = []
  for (const driver of drivers) {
    const spot = fits(driver, placed, design) ? driver : nearestFree(driver, placed, design)
    if (!spot) break
    placed.push(spot)
  }
  if (placed.length === drivers.length) return { drivers: placed }
  const layouts = rowsOf(drivers).map((rows) => ({ rows, ...roomOf(rows) }))
  const roomy = layouts.find(
    ({ widthM, heightM }) => widthM <= design.widthM + slackM && heightM <= design.heightM + slackM,
  )
  if (roomy) return { drivers: laidOut(drivers, roomy.rows, design) }
  const grown = layouts.map(({ widthM, heightM }) => ({
    widthM: Math.max(widthM, design.widthM),
    heightM: Math.max(heightM, design.heightM),
  }))
  const needs = grown.reduce((best, next) => (next.widthM * next.heightM < best.widthM * best.heightM ? next : best))
  return { drivers, needs }
}

/** The nearest free place for a driver; a step sideways counts three times, because drivers sit in the middle where they can. */
function nearestFree(driver: BoxDriver, others: readonly BoxDriver[], face: Face): BoxDriver | undefined {
  const { wideM, highM } = halfSizeM(driver)
  const [acrossM, alongM] = [face.widthM / 2 - wideM, face.heightM / 2 - highM]
  if (acrossM < -slackM || alongM < -slackM) return undefined
  let best: { away: number; driver: BoxDriver } | undefined
  for (const xM of gridTo(acrossM)) {
    for (const yM of gridTo(alongM)) {
      const away = Math.hypot(3 * (xM - driver.xM), yM - driver.yM) + 3 * Math.abs(xM)
      if (best && away >= best.away) continue
      const moved = { ...driver, xM, yM }
      if (fits(moved, others, face)) best = { away, driver: moved }
    }
  }
  return best?.driver
}

/** Places from the middle to both ends, the ends included. */
function gridTo(limitM: number): number[] {
  const most = Math.max(0, limitM)
  const steps = Array.from({ length: Math.floor(most / gridM + 1e-9) + 1 }, (_, step) => toGrain(step * gridM))
  const all = [...steps, Math.floor(most * 1e4 + 1e-6) / 1e4]
  return [...new Set(all.flatMap((value) => [value, -value + 0]))]
}

/** Ways to set drivers in rows from the top down: what plays high, and horns, above. */
function rowsOf(drivers: readonly BoxDriver[]): BoxDriver[][][] {
  const isHigh = ({ kind, plays }: BoxDriver) => kind === 'horn' || plays === 'high'
  const [high, low] = [drivers.filter(isHigh), drivers.filter((driver) => !isHigh(driver))]
  const each = (some: BoxDriver[]) => some.map((driver) => [driver])
  const pairs = (some: BoxDriver[]) =>
    Array.from({ length: Math.ceil(some.length / 2) }, (_, i) => some.slice(2 * i, 2 * i + 2))
  return [
    [...each(high), ...each(low)],
    [high, ...each(low)],
    [...each(high), low],
    [high, low],
    [...pairs(high), ...pairs(low)],
    [[...high, ...low]],
  ].map((rows) => rows.filter(({ length }) => length > 0))
}

const sum = (values: number[]) => values.reduce((total, value) => total + value, 0)
const wide = (driver: BoxDriver) => 2 * halfSizeM(driver).wideM
const high = (driver: BoxDriver) => 2 * halfSizeM(driver).highM

const roomOf = (rows: BoxDriver[][]): Face => ({
  widthM: Math.max(...rows.map((row) => sum(row.map(wide)))),
  heightM: sum(rows.map((row) => Math.max(...row.map(high)))),
})

/** Drivers in rows, the room that is left shared out evenly. */
function laidOut(drivers: readonly BoxDriver[], rows: BoxDriver[][], face: Face): BoxDriver[] {
  const spots = new Map<BoxDriver, { xM: number; yM: number }>()
  const apartM = (face.heightM - roomOf(rows).heightM) / (rows.length + 1)
  let topM = face.heightM / 2
  for (const row of rows) {
    const highM = Math.max(...row.map(high))
    const besideM = (face.widthM - sum(row.map(wide))) / (row.length + 1)
    topM -= apartM
    let leftM = -face.widthM / 2
    for (const driver of row) {
      leftM += besideM
      spots.set(driver, { xM: leftM + wide(driver) / 2, yM: topM - highM / 2 })
      leftM += wide(driver)
    }
    topM -= highM
  }
  const exact = drivers.map((driver) => ({ ...driver, ...spots.get(driver) }))
  const rounded = exact.map((driver) => ({ ...driver, xM: toGrain(driver.xM) + 0, yM: toGrain(driver.yM) + 0 }))
  // Where there is no room to spare, not even for rounding, they stand as they must.
  return allFit(rounded, face) ? rounded : exact
}
