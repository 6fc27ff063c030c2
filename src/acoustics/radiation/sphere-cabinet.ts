import { add, type Complex, fromPolar, multiply, squaredMagnitude } from '../complex.ts'
import { type Air, requireAir } from '../medium/air.ts'
import { requireInRange } from '../numeric-range.ts'
import type { Point } from '../point.ts'
import { gaussLegendre } from '../special/gauss-legendre.ts'
import { requireNotInBox } from './boundary-elements/require-outside-box.ts'
import { type Cabinet, checkCabinet, type Driver, driverAreaM2 } from './cabinet.ts'
import { farFieldDirection } from './far-field-direction.ts'
import { pyramidVelocityCoefficients } from './pyramid-velocity.ts'
import type { Radiation } from './radiation.ts'
import { frequencyRange } from './radiation-input.ts'
import { type SpherePistonShape, spherePiston } from './sphere-piston.ts'
import { type SphereRadiation, sphereRadiation } from './sphere-radiation.ts'

type SphereOfDriver = { radiusM: number; radiation: SphereRadiation }

/** One driver on its sphere: where the sphere's centre is, what it radiates, and its share of the volume velocity. */
type Element = SphereOfDriver & { centre: Point; weight: Complex }

/**
 * First model of a box: its drivers as moving caps on rigid spheres, in free space. Same call and same coordinates as
 * any other model of a cabinet (origin at the centre of the front face, box in z ∈ [−depth, 0]).
 *
 * - One driver: a sphere with the box's whole surface, R = √(S/4π), whose cap has its apex at the driver's centre on the
 *   front face (sphere centre at z = −R behind it).
 * - Several drivers (a column): each on its own sphere with its share of the four long sides of the box,
 *   R = √(side surface / 4πN), the sides that run along the longer edge of the front face. The spheres do not
 *   scatter each other's sound.
 * - A piston is an axially moving cap with R sin α equal to its radius. A horn is the radially moving pyramid of its two
 *   coverage angles, averaged round the axis (see pyramidVelocityCoefficients), because a radially moving part of a
 *   sphere sends its highest frequencies into its own angle, as the horn does. So the model has a horn's solid angle
 *   of coverage, but does not tell its horizontal from its vertical pattern.
 * - A sphere is never smaller than its driver.
 *
 * Volume velocity: a driver's share is gain × area × e^{−jωτ}; the sum of |gain| × area over the drivers is 1 m³/s.
 * Outside the box but inside a sphere, that sphere counts with the pressure at its nearest surface point.
 * Power and directivity index of several drivers are integrated numerically from the far field (Gauss–Legendre over
 * the polar angle, even steps round it), when first asked for.
 *
 * What the sphere leaves out: the ripple of sharp edges (a few dB). Above kR ≈ 5 the deep rear is an estimate: a round
 * body has a bright spot straight behind and a smoother shadow beside it than a box has.
 *
 * @param cabinet      see checkCabinet
 * @param frequencyHz  1e-6 … 1e6 Hz, with kR at most 1000
 * @param air          the medium
 * @returns            Radiation; pressureAt throws RangeError inside the box
 * @throws RangeError  for arguments outside these ranges
 * Source: the sphere as a stand-in for a box: H. F. Olson, Direct radiator loudspeaker enclosures, J. Audio Eng. Soc.
 *         17 (1969) 22–29, whose sphere is the smoothest of the shapes; equal surface is our choice.
 */
export function sphereCabinet(cabinet: Cabinet, frequencyHz: number, air: Air): Radiation {
  checkCabinet(cabinet)
  requireInRange('frequencyHz', frequencyHz, frequencyRange)
  requireAir(air)
  const wavenumber = (2 * Math.PI * frequencyHz) / air.speedOfSoundMps
  const elements = sphereElements(cabinet, frequencyHz, air)

  const farField = (sx: number, sy: number, sz: number): Complex => {
    let sum: Complex = { re: 0, im: 0 }
    for (const { centre, radiation, weight } of elements) {
      const advanceRad = wavenumber * (centre.xM * sx + centre.yM * sy + centre.zM * sz)
      sum = add(sum, multiply(multiply(radiation.farField(sz), weight), fromPolar(1, advanceRad)))
    }
    return sum
  }
  const onAxisSquared = squaredMagnitude(farField(0, 0, 1))
  const single = elements.length === 1 ? elements[0]?.radiation : undefined
  let integratedPowerW: number | undefined
  const powerW = (): number => {
    integratedPowerW ??= single?.powerW ?? farFieldPowerW(elements, wavenumber, air.densityKgM3 * air.speedOfSoundMps)
    return integratedPowerW
  }

  return {
    frequencyHz,
    pressureAt(point) {
      requireNotInBox(cabinet, point)
      let re = 0
      let im = 0
      for (const { centre, radiusM, radiation, weight } of elements) {
        const p = radiation.pressureAt(outsideSphere(point, centre, radiusM))
        re += p.re * weight.re - p.im * weight.im
        im += p.re * weight.im + p.im * weight.re
      }
      return { re, im }
    },
    get powerW() {
      return powerW()
    },
    get directivityIndexDb() {
      const onAxisIntensity = onAxisSquared / (2 * air.densityKgM3 * air.speedOfSoundMps)
      return 10 * Math.log10((4 * Math.PI * onAxisIntensity) / powerW())
    },
    farFieldDb(horizontalRad, verticalRad) {
      const direction = farFieldDirection(horizontalRad, verticalRad)
      if (onAxisSquared === 0) {
        throw new RangeError(
          'the drivers cancel on the forward axis; levels re that axis are allowed only where it has sound',
        )
      }
      return 10 * Math.log10(squaredMagnitude(farField(...direction)) / onAxisSquared)
    },
  }
}

/** Up to this kR a sphere stands in for a box within a few dB all round; above it, what it sends to the rear is an estimate. */
const trustedKr = 5

/**
 * The highest frequency, Hz, up to which the model's rear is more than an estimate: kR = 5 of its sphere.
 *
 * @throws RangeError for a cabinet or an Air out of range
 * Source: our own reading of sphere against box; no published limit.
 */
export function sphereCabinetTrustedHz(cabinet: Cabinet, air: Air): number {
  checkCabinet(cabinet)
  requireAir(air)
  return (trustedKr * air.speedOfSoundMps) / (2 * Math.PI * Math.sqrt(surfacePerDriverM2(cabinet) / (4 * Math.PI)))
}

/** The whole surface for one driver; for several, each one's share of the four long sides. */
function surfacePerDriverM2({ widthM, heightM, depthM, drivers }: Cabinet): number {
  if (drivers.length === 1) return 2 * (widthM * heightM + widthM * depthM + heightM * depthM)
  const longM = Math.max(widthM, heightM)
  return (2 * (Math.min(widthM, heightM) + depthM) * longM) / drivers.length
}

function sphereElements(cabinet: Cabinet, frequencyHz: number, air: Air): Element[] {
  const { drivers } = cabinet
  const surfaceM2 = surfacePerDriverM2(cabinet)
  let totalM2 = 0
  for (const driver of drivers) totalM2 += Math.abs(driver.gain ?? 1) * driverAreaM2(driver)
  // Equal drivers share one set of coefficients.
  const solved = new Map<string, SphereOfDriver>()
  return drivers.map((driver) => {
    const key =
      driver.kind === 'piston'
        ? `piston ${driver.radiusM}`
        : `horn ${driver.horizontalCoverageRad} ${driver.verticalCoverageRad}`
    const sphere = solved.get(key) ?? driverOnSphere(driver, Math.sqrt(surfaceM2 / (4 * Math.PI)), frequencyHz, air)
    solved.set(key, sphere)
    const share = ((driver.gain ?? 1) * driverAreaM2(driver)) / totalM2
    return {
      ...sphere,
      centre: { xM: driver.xM, yM: driver.yM, zM: -sphere.radiusM },
      weight: fromPolar(share, -2 * Math.PI * frequencyHz * (driver.delayS ?? 0)),
    }
  })
}

/** A piston this close to the sphere's own size is drawn as a cap of 80°, so that it stays a cap. */
const widestPistonCapRad = (80 * Math.PI) / 180

function driverOnSphere(driver: Driver, sphereRadiusM: number, frequencyHz: number, air: Air): SphereOfDriver {
  if (driver.kind === 'piston') {
    const radiusM = Math.max(sphereRadiusM, driver.radiusM / Math.sin(widestPistonCapRad))
    const shape: SpherePistonShape = { radiusM, capHalfAngleRad: Math.asin(driver.radiusM / radiusM), motion: 'axial' }
    return { radiusM, radiation: spherePiston(shape, frequencyHz, air) }
  }
  const { horizontalCoverageRad, verticalCoverageRad } = driver
  const velocityCoefficients = (maxOrder: number) =>
    pyramidVelocityCoefficients(horizontalCoverageRad, verticalCoverageRad, maxOrder)
  const radiation = sphereRadiation({ radiusM: sphereRadiusM, velocityCoefficients }, frequencyHz, air)
  return { radiusM: sphereRadiusM, radiation }
}

/** The point as seen from the sphere's centre, moved out to the surface if it lies inside. */
function outsideSphere(point: Point, centre: Point, radiusM: number): Point {
  const xM = point.xM - centre.xM
  const yM = point.yM - centre.yM
  const zM = point.zM - centre.zM
  const distanceM = Math.sqrt(xM * xM + yM * yM + zM * zM)
  if (distanceM >= radiusM || Number.isNaN(distanceM)) return { xM, yM, zM }
  // The centre has no nearest surface point; if it lies outside the box at all, it lies behind it.
  if (distanceM < 1e-9 * radiusM) return { xM: 0, yM: 0, zM: -radiusM }
  const stretch = radiusM / distanceM
  return { xM: xM * stretch, yM: yM * stretch, zM: zM * stretch }
}

/**
 * W = ∮ |far|² dΩ / 2ρc. The far field of sources within a distance D of the axis has a band limit of kD, its square
 * twice that; both rules below are exact up to a higher order, so the integral is good to rounding.
 */
function farFieldPowerW(elements: Element[], wavenumber: number, rhoC: number): number {
  let reachM = 0
  for (const { centre, radiusM } of elements) reachM = Math.max(reachM, Math.hypot(centre.xM, centre.yM) + radiusM)
  const bandLimit = wavenumber * reachM
  const polarSteps = Math.ceil(bandLimit + 6 * Math.cbrt(bandLimit)) + 16
  const roundSteps = 2 * polarSteps
  const { nodes, weights } = gaussLegendre(polarSteps)
  const rows = elements.map(({ radiation }) => radiation)
  let sum = 0
  for (let i = 0; i < polarSteps; i++) {
    const cosAngle = nodes[i] as number
    const sinAngle = Math.sqrt(1 - cosAngle * cosAngle)
    const far = new Map<SphereRadiation, Complex>()
    for (const radiation of rows) if (!far.has(radiation)) far.set(radiation, radiation.farField(cosAngle))
    const parts = elements.map(({ centre, radiation, weight }) =>
      multiply(multiply(far.get(radiation) as Complex, weight), fromPolar(1, wavenumber * centre.zM * cosAngle)),
    )
    for (let m = 0; m < roundSteps; m++) {
      const roundRad = (2 * Math.PI * m) / roundSteps
      const sx = sinAngle * Math.cos(roundRad)
      const sy = sinAngle * Math.sin(roundRad)
      let re = 0
      let im = 0
      for (let e = 0; e < elements.length; e++) {
        const { centre } = elements[e] as Element
        const part = parts[e] as Complex
        const phaseRad = wavenumber * (centre.xM * sx + centre.yM * sy)
        const c = Math.cos(phaseRad)
        const s = Math.sin(phaseRad)
        re += part.re * c - part.im * s
        im += part.re * s + part.im * c
      }
      sum += ((weights[i] as number) * (re * re + im * im) * 2 * Math.PI) / roundSteps
    }
  }
  return sum / (2 * rhoC)
}
