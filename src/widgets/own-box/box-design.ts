import {
  amplitudeLevelDb,
  amplitudeRatio,
  type Driver,
  type Rig,
  type RigCabinet,
  type Way,
} from '../../acoustics/index.ts'
import type { OwnBox } from '../../engine/questions/own-box/own-box-terms.ts'
import { earHeightM } from '../../engine/scene/scene-terms.ts'
import { toGrain } from '../../words/sizes.ts'
import { type BoxPort, portOfWay } from './box-port.ts'

/** One driver as the form has it: the numbers of both kinds, so that switching the kind and back loses nothing. */
export type BoxDriver = {
  kind: 'cone' | 'horn'
  /** Diameter of the moving part of a cone or dome. */
  diameterM: number
  mouthWidthM: number
  mouthHeightM: number
  horizontalDeg: number
  verticalDeg: number
  /** Place of its middle from the middle of the front face, right and up. */
  xM: number
  yM: number
  /** Below or above the crossover, where there is one. */
  plays: 'low' | 'high'
  /** How far its cone or mouth moves against the other drivers of its part, dB. */
  levelDb: number
  delayMs: number
  /** Moves in when the others move out. */
  inverted: boolean
}

/** The reader's box as the form has it. One way: all drivers play everything, and `crossoverHz` and `plays` do not matter. */
export type BoxDesign = {
  widthM: number
  heightM: number
  depthM: number
  twoWay: boolean
  crossoverHz: number
  drivers: BoxDriver[]
  /** A port in the back, through which the cones breathe that play low. */
  port?: BoxPort
  /** Stands on the floor as a saved rig, instead of with its middle at the height of ears. */
  onFloor?: true
}

export const mostDrivers = 4

/** Allowed numbers of a box, and the step of their fields. */
export const boxRanges = {
  outerM: { min: 0.05, max: 2, step: 0.01 },
  diameterM: { min: 0.01, max: 1.2, step: 0.01 },
  mouthM: { min: 0.02, max: 2, step: 0.01 },
  coverageDeg: { min: 10, max: 180, step: 5 },
  placeM: { min: -1, max: 1, step: 0.01 },
  levelDb: { min: -40, max: 20, step: 1 },
  delayMs: { min: 0, max: 50, step: 0.1 },
  crossoverHz: { min: 60, max: 16000, step: 50 },
} as const

/** A crossover to begin with: where a 10-inch cone hands over to a horn (common practice, no source). */
export const usualCrossoverHz = 1800

/** What a new driver starts as. */
export const plainDriver: BoxDriver = {
  kind: 'cone',
  diameterM: 0.1,
  mouthWidthM: 0.2,
  mouthHeightM: 0.12,
  horizontalDeg: 90,
  verticalDeg: 60,
  xM: 0,
  yM: 0,
  plays: 'low',
  levelDb: 0,
  delayMs: 0,
  inverted: false,
}

/** Half of a driver's width and height on the face, m. */
export const halfSizeM = ({ kind, diameterM, mouthWidthM, mouthHeightM }: BoxDriver) =>
  kind === 'cone' ? { wideM: diameterM / 2, highM: diameterM / 2 } : { wideM: mouthWidthM / 2, highM: mouthHeightM / 2 }

const radiansPerDegree = Math.PI / 180

/** What the acoustics module computes with: one way, or two that cross over with Linkwitz–Riley slopes of order 4. */
export function boxOfDesign({ widthM, heightM, depthM, twoWay, crossoverHz, drivers, port }: BoxDesign): OwnBox {
  const size = { widthM, heightM, depthM }
  const behind = port && { port: { ...port } }
  if (!twoWay) return { ...size, ways: [{ name: 'drivers', drivers: drivers.map(acousticDriver), ...behind }] }
  const slope = { alignment: 'linkwitz-riley', order: 4, frequencyHz: crossoverHz } as const
  const those = (plays: BoxDriver['plays']) => drivers.filter((driver) => driver.plays === plays).map(acousticDriver)
  return {
    ...size,
    ways: [
      { name: 'low', drivers: those('low'), lowPass: slope, ...behind },
      { name: 'high', drivers: those('high'), highPass: slope },
    ],
  }
}

/** One driver as the acoustics module takes it. */
export function acousticDriver(driver: BoxDriver): Driver {
  const { kind, diameterM, mouthWidthM, mouthHeightM, horizontalDeg, verticalDeg, xM, yM } = driver
  const { levelDb, delayMs, inverted } = driver
  const place = {
    xM,
    yM,
    ...((levelDb !== 0 || inverted) && { gain: (inverted ? -1 : 1) * amplitudeRatio(levelDb) }),
    ...(delayMs !== 0 && { delayS: delayMs / 1000 }),
  }
  if (kind === 'cone') return { kind: 'piston', radiusM: diameterM / 2, ...place }
  return {
    kind: 'horn',
    mouthWidthM,
    mouthHeightM,
    horizontalCoverageRad: horizontalDeg * radiansPerDegree,
    verticalCoverageRad: verticalDeg * radiansPerDegree,
    ...place,
  }
}

/**
 * The form's box for a cabinet of a rig, or undefined for one that the form cannot hold: more than four drivers, a
 * silent one, a port above the crossover, more than two ways, or two ways that do not cross over at one frequency. What plays outside the box's own crossover (a
 * high-pass toward a sub, say) is not part of a box and is left out.
 */
export function designOfCabinet({
  widthM,
  heightM,
  depthM,
  ways,
  frontCentre,
}: OwnBox & Partial<Pick<RigCabinet, 'frontCentre'>>): BoxDesign | undefined {
  const size = { widthM: toGrain(widthM), heightM: toGrain(heightM), depthM: toGrain(depthM) }
  if (ways.reduce((count, { drivers }) => count + drivers.length, 0) > mostDrivers) return undefined
  if (ways.some(({ drivers }) => drivers.some(({ gain }) => gain === 0))) return undefined
  const lowEdgeHz = ({ highPass }: Way) => highPass?.frequencyHz ?? 0
  const [first, second, ...more] = [...ways].sort((a, b) => lowEdgeHz(a) - lowEdgeHz(b))
  if (!first || more.length > 0 || second?.port) return undefined
  const standsLow = frontCentre !== undefined && frontCentre.yM <= heightM / 2 + 1e-6
  const rest = {
    ...(first.port && { port: portOfWay(first.port) }),
    ...(standsLow && { onFloor: true as const }),
  }
  if (!second)
    return {
      ...size,
      twoWay: false,
      crossoverHz: usualCrossoverHz,
      drivers: first.drivers.map((driver) => formDriver(driver, 'low')),
      ...rest,
    }
  const crossoverHz = first.lowPass?.frequencyHz
  if (crossoverHz === undefined || second.highPass?.frequencyHz !== crossoverHz) return undefined
  return {
    ...size,
    twoWay: true,
    crossoverHz,
    drivers: [
      ...first.drivers.map((driver) => formDriver(driver, 'low')),
      ...second.drivers.map((driver) => formDriver(driver, 'high')),
    ],
    ...rest,
  }
}

function formDriver(driver: Driver, plays: BoxDriver['plays']): BoxDriver {
  const { gain = 1, delayS = 0 } = driver
  const common = {
    xM: toGrain(driver.xM),
    yM: toGrain(driver.yM),
    plays,
    levelDb: rounded(amplitudeLevelDb(Math.abs(gain)), 2),
    delayMs: rounded(delayS * 1000, 3),
    inverted: gain < 0,
  }
  if (driver.kind === 'piston') return { ...plainDriver, diameterM: toGrain(2 * driver.radiusM), ...common }
  return {
    ...plainDriver,
    kind: 'horn',
    mouthWidthM: toGrain(driver.mouthWidthM),
    mouthHeightM: toGrain(driver.mouthHeightM),
    horizontalDeg: toTenthDeg(driver.horizontalCoverageRad),
    verticalDeg: toTenthDeg(driver.verticalCoverageRad),
    ...common,
  }
}

/** A number to some digits, and 0 without a sign. */
const rounded = (value: number, digits: number) => Number(value.toFixed(digits)) || 0
const toTenthDeg = (angleRad: number) => Number((angleRad / radiansPerDegree).toFixed(1))

/** The box as a rig of one cabinet, for the walk-round. */
export function rigOfDesign(name: string, design: BoxDesign): Rig {
  const box = boxOfDesign(design)
  const cabinet: RigCabinet = {
    name: 'own box',
    ...box,
    frontCentre: { xM: 0, yM: design.onFloor ? design.heightM / 2 : earHeightM, zM: 0 },
  }
  return { name, cabinets: [cabinet] }
}

/** What stands in a field that no longer matters is put back to the plain driver's, so that equal boxes are equal. */
export function canonicalDesign(design: BoxDesign): BoxDesign {
  const { widthM, heightM, depthM, twoWay, crossoverHz, drivers, port, onFloor } = design
  return {
    widthM,
    heightM,
    depthM,
    twoWay,
    crossoverHz: twoWay ? crossoverHz : usualCrossoverHz,
    drivers: drivers.map((driver) => {
      const { kind, diameterM, mouthWidthM, mouthHeightM, horizontalDeg, verticalDeg, xM, yM, plays } = driver
      const { levelDb, delayMs, inverted } = driver
      return {
        ...plainDriver,
        kind,
        ...(kind === 'cone' ? { diameterM } : { mouthWidthM, mouthHeightM, horizontalDeg, verticalDeg }),
        xM,
        yM,
        plays: twoWay ? plays : ('low' as const),
        levelDb,
        delayMs,
        inverted,
      }
    }),
    ...(port && { port: { ...port } }),
    ...(onFloor && { onFloor }),
  }
}

/** Whether a driver differs from the others in more than size and place. */
export const isFineTuned = ({ levelDb, delayMs, inverted }: BoxDriver): boolean =>
  levelDb !== 0 || delayMs !== 0 || inverted
