import { add, type Complex } from '../complex.ts'
import { type Air, requireAir } from '../medium/air.ts'
import { requireInRange } from '../numeric-range.ts'
import type { Point } from '../point.ts'
import { requireOutsideBox } from './boundary-elements/require-outside-box.ts'
import { type Cabinet, checkCabinet, driverHalfSizeM } from './cabinet.ts'
import { farFieldDirection } from './far-field-direction.ts'
import { type EdgeModel, edgeModel } from './high-frequency-box.ts'
import type { Radiation } from './radiation.ts'

/** Radiation above the reach of boundary elements. */
export type HighFrequencyRadiation = Radiation & {
  /** Behind the box, where sound has turned two edges and more, the level is an estimate, a few dB off. */
  rearIsEstimate: true
  /** Greatest correction that the edge model needed at the hand-over, within 20 dB of the loudest direction, dB. */
  estimatedErrorDb: number
}

/** Largest half size of a driver in radians of the wave, ka: beyond it the potential takes too many points. */
const largestKa = 120

/** Distance that stands for infinity, in half space diagonals of the box. */
const farRadii = 1e5

/** Highest frequency, Hz, for this cabinet. */
export function highFrequencyLimitHz(cabinet: Cabinet, air: Air): number {
  const halves = cabinet.drivers.map((driver) => {
    const { halfWidthM, halfHeightM } = driverHalfSizeM(driver)
    return Math.max(halfWidthM, halfHeightM)
  })
  return (largestKa * air.speedOfSoundMps) / (2 * Math.PI * Math.max(...halves))
}

/**
 * Sound of a box at high frequencies: the edge model M (see edgeModel), anchored to a solution B at the hand-over f_h below:
 *
 *   p(x, f) = M(x, f) + [B(x, f_h) − M(x, f_h)] · (e(f)/e(f_h)) (f_h/f) · e^{−j(k − k_h)|x − s|}
 *
 * e being the pressure with which the drivers light the front edges and s their middle. What M lacks at the hand-over
 * (third edges, corners, slopes of beams at the edges) is so carried on, in step with what reaches the edges and fading
 * like f_h/f against that. At f = f_h the result is B itself, everywhere: the join is continuous.
 * Power: that of the drivers in a baffle, times B's share of it at f_h faded to 1 in the same way.
 *
 * In front the result is the drivers' own beam with its edge ripple; **the rear is an estimate** (`rearIsEstimate`).
 *
 * @param cabinet      see checkCabinet
 * @param frequencyHz  not below the anchor's; up to highFrequencyLimitHz
 * @param air          the medium
 * @param anchor       the same cabinet solved at the hand-over frequency, or rebuilt from its expansion. Without an anchor the
 *                     edge model stands alone
 * @returns            HighFrequencyRadiation; pressureAt throws RangeError inside the box
 * @throws RangeError  for arguments outside these ranges
 * Source: our own join; the parts are those of edgeModel.
 */
export function highFrequencyRadiation(
  cabinet: Cabinet,
  frequencyHz: number,
  air: Air,
  anchor?: Radiation,
): HighFrequencyRadiation {
  checkCabinet(cabinet)
  requireAir(air)
  requireInRange('frequencyHz', frequencyHz, {
    min: anchor?.frequencyHz ?? 1e-6,
    max: highFrequencyLimitHz(cabinet, air),
    unit: 'Hz',
  })
  const model = edgeModel(cabinet, frequencyHz, air)
  const join = anchor && joinAt(cabinet, frequencyHz, air, model, handOver(cabinet, air, anchor))
  const radiusM = Math.hypot(cabinet.widthM, cabinet.heightM, cabinet.depthM) / 2
  // Power is the one costly number, and most callers do not ask for it.
  const powerW = (): number => model.baffledPowerW() * (join?.powerShare() ?? 1)

  const pressureAt = (point: Point): { re: number; im: number } => {
    const pressure = model.pressureAt(point)
    if (!join) return pressure
    return add(pressure, join.correctionAt(point))
  }
  const farSquared = (x: number, y: number, z: number): number => {
    const r = farRadii * radiusM
    const { re, im } = pressureAt({ xM: r * x, yM: r * y, zM: r * z - cabinet.depthM / 2 })
    return (re * re + im * im) * r * r
  }
  const onAxisSquared = farSquared(0, 0, 1)
  return {
    frequencyHz,
    pressureAt(point) {
      requireOutsideBox(cabinet, point)
      return pressureAt(point)
    },
    get powerW() {
      return powerW()
    },
    get directivityIndexDb() {
      return 10 * Math.log10((2 * Math.PI * onAxisSquared) / (air.densityKgM3 * air.speedOfSoundMps * powerW()))
    },
    farFieldDb(horizontalRad, verticalRad) {
      return 10 * Math.log10(farSquared(...farFieldDirection(horizontalRad, verticalRad)) / onAxisSquared)
    },
    rearIsEstimate: true,
    estimatedErrorDb: join?.errorDb ?? estimateWithoutAnchorDb,
  }
}

/**
 * The same sound at many places for one frequency after another: what the anchor knows of the places is worked out once.
 *
 * @param points  outside the box, m
 * @returns       pressures at the points at a frequency, equal to those of highFrequencyRadiation
 * @throws RangeError for arguments out of the ranges of highFrequencyRadiation
 */
export function highFrequencyPressures(
  cabinet: Cabinet,
  air: Air,
  anchor: Radiation,
  points: readonly Point[],
): (frequencyHz: number) => Complex[] {
  checkCabinet(cabinet)
  requireAir(air)
  for (const point of points) requireOutsideBox(cabinet, point)
  const handedOver = handOver(cabinet, air, anchor)
  const missing = points.map(handedOver.missingAt)
  return (frequencyHz) => {
    requireInRange('frequencyHz', frequencyHz, {
      min: anchor.frequencyHz,
      max: highFrequencyLimitHz(cabinet, air),
      unit: 'Hz',
    })
    const model = edgeModel(cabinet, frequencyHz, air)
    const { carriedOn } = joinAt(cabinet, frequencyHz, air, model, handedOver)
    return points.map((point, index) => add(model.pressureAt(point), carriedOn(missing[index] as Complex, point)))
  }
}

/** What the edge model alone was found to miss at most against boundary elements, within 20 dB of the loudest direction, dB. */
const estimateWithoutAnchorDb = 3

/** Directions farther below the loudest than this, dB, do not count in the error estimate. */
const comparedDb = 20

/** The edge model and the solution where one takes over from the other. */
type HandOver = { anchor: Radiation; below: EdgeModel; errorDb: number; missingAt(point: Point): Complex }

/** The last hand-over: one frequency after another asks for the same. */
let lastHandOver: (HandOver & { key: string }) | undefined

function handOver(cabinet: Cabinet, air: Air, anchor: Radiation): HandOver {
  const key = JSON.stringify([cabinet, air])
  if (lastHandOver?.anchor === anchor && lastHandOver.key === key) return lastHandOver
  const below = edgeModel(cabinet, anchor.frequencyHz, air)
  lastHandOver = {
    key,
    anchor,
    below,
    errorDb: correctionDb(cabinet, below, anchor),
    missingAt(point) {
      const a = anchor.pressureAt(point)
      const b = below.pressureAt(point)
      return { re: a.re - b.re, im: a.im - b.im }
    },
  }
  return lastHandOver
}

type Join = {
  /** What was missing at a point at the hand-over, at this frequency. */
  carriedOn(missing: Complex, point: Point): Complex
  correctionAt(point: Point): Complex
  powerShare(): number
  errorDb: number
}

function joinAt(
  cabinet: Cabinet,
  frequencyHz: number,
  air: Air,
  model: EdgeModel,
  { anchor, below, errorDb, missingAt }: HandOver,
): Join {
  const share = model.edgePressurePa / below.edgePressurePa / (frequencyHz / anchor.frequencyHz)
  const extraWavenumber = (2 * Math.PI * (frequencyHz - anchor.frequencyHz)) / air.speedOfSoundMps
  const fade = anchor.frequencyHz / frequencyHz
  const [sourceX, sourceY] = driversMiddle(cabinet)
  const carriedOn = ({ re, im }: Complex, point: Point): Complex => {
    const phase = extraWavenumber * Math.hypot(point.xM - sourceX, point.yM - sourceY, point.zM)
    const [c, s] = [share * Math.cos(phase), share * Math.sin(phase)]
    return { re: re * c + im * s, im: im * c - re * s }
  }
  return {
    carriedOn,
    correctionAt: (point) => carriedOn(missingAt(point), point),
    powerShare: () => 1 + (anchor.powerW / below.baffledPowerW() - 1) * fade,
    errorDb,
  }
}

/** Middle of the drivers on the face, by gain and area. */
function driversMiddle({ drivers }: Cabinet): [number, number] {
  let [x, y, total] = [0, 0, 0]
  for (const driver of drivers) {
    const { halfWidthM, halfHeightM } = driverHalfSizeM(driver)
    const weight = Math.abs(driver.gain ?? 1) * halfWidthM * halfHeightM
    x += weight * driver.xM
    y += weight * driver.yM
    total += weight
  }
  return [x / total, y / total]
}

function correctionDb(cabinet: Cabinet, model: EdgeModel, anchor: Radiation): number {
  const r = 1000 * (cabinet.widthM + cabinet.heightM + cabinet.depthM)
  const pairs: [number, number][] = []
  for (const verticalRad of [-Math.PI / 4, 0, Math.PI / 4]) {
    for (let i = 0; i < 14; i++) {
      const horizontalRad = (2 * Math.PI * i) / 14
      const c = r * Math.cos(verticalRad)
      const point = { xM: c * Math.sin(horizontalRad), yM: r * Math.sin(verticalRad), zM: c * Math.cos(horizontalRad) }
      const [a, b] = [anchor.pressureAt(point), model.pressureAt(point)]
      pairs.push([20 * Math.log10(Math.hypot(a.re, a.im)), 20 * Math.log10(Math.hypot(b.re, b.im))])
    }
  }
  const loudest = Math.max(...pairs.map(([level]) => level))
  return Math.max(...pairs.filter(([level]) => level > loudest - comparedDb).map(([a, b]) => Math.abs(a - b)))
}
