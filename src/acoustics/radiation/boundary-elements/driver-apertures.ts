import { type Complex, fromPolar } from '../../complex.ts'
import { gaussRule } from '../../special/gauss-rule.ts'
import { type Driver, driverAreaM2 } from '../cabinet.ts'
import { discPotential } from './disc-potential.ts'
import { hornWavefront } from './horn-wavefront.ts'
import { rectangleNodes, rectanglePotential } from './rectangle-potential.ts'

/** The radiating parts of a front face in the plane z = 0, together of unit volume velocity. */
export type Apertures = {
  /** Adds ∫ v e^{−jkR}/(4πR) dS at a point (real, imaginary), m²/s for 1 m³/s over m. */
  addPotential(x: number, y: number, z: number, out: Float64Array): void
  /** Gauss points:  ∫ f v dS ≈ Σ (re + j im) f(x, y, 0). */
  nodes: { x: Float64Array; y: Float64Array; re: Float64Array; im: Float64Array }
  /** The drivers one by one: their centres, and their share of the potential. */
  parts: { xM: number; yM: number; addPotential(x: number, y: number, z: number, out: Float64Array): void }[]
}

type Aperture = {
  nodes: { u: Float64Array; v: Float64Array; re: Float64Array; im: Float64Array }
  potential(u: number, v: number, heightM: number, out: Float64Array): void
}

/**
 * The drivers of a cabinet as moving apertures.
 *
 * A driver's share of the volume velocity is gain × area × e^{−jωτ}; the sum of |gain| × area over the drivers is 1 m³/s.
 * A horn's flow is the magnitude of the integral of its normal velocity, |∫ v dS|, scaled to its share; the phase stands
 * at the centre of the mouth, so that a horn and a piston side by side start together.
 *
 * @param drivers      from a checked cabinet
 * @param frequencyHz  for the delays
 * @param wavenumber   k, rad/m
 * Source: see discPotential, rectanglePotential, hornWavefront.
 */
export function driverApertures(drivers: readonly Driver[], frequencyHz: number, wavenumber: number): Apertures {
  const shares = driverShares(drivers, frequencyHz)
  const parts = drivers.map((driver, index) => ({
    xM: driver.xM,
    yM: driver.yM,
    aperture: driver.kind === 'piston' ? disc(driver.radiusM, wavenumber) : horn(driver, wavenumber),
    ...(shares[index] as Complex),
  }))
  const count = parts.reduce((sum, part) => sum + part.aperture.nodes.u.length, 0)
  const nodes = {
    x: new Float64Array(count),
    y: new Float64Array(count),
    re: new Float64Array(count),
    im: new Float64Array(count),
  }
  let at = 0
  for (const { xM, yM, aperture, re, im } of parts) {
    for (let i = 0; i < aperture.nodes.u.length; i++, at++) {
      const a = aperture.nodes.re[i] as number
      const b = aperture.nodes.im[i] as number
      nodes.x[at] = xM + (aperture.nodes.u[i] as number)
      nodes.y[at] = yM + (aperture.nodes.v[i] as number)
      nodes.re[at] = a * re - b * im
      nodes.im[at] = a * im + b * re
    }
  }
  const one = new Float64Array(2)
  const potentials = parts.map(({ xM, yM, aperture, re, im }) => ({
    xM,
    yM,
    addPotential(x: number, y: number, z: number, out: Float64Array) {
      aperture.potential(x - xM, y - yM, Math.abs(z), one)
      const a = one[0] as number
      const b = one[1] as number
      out[0] = (out[0] as number) + a * re - b * im
      out[1] = (out[1] as number) + a * im + b * re
    },
  }))
  return {
    nodes,
    parts: potentials,
    addPotential(x, y, z, out) {
      for (const part of potentials) part.addPotential(x, y, z, out)
    },
  }
}

/** Volume velocity of each driver, m³/s: see driverApertures. */
export function driverShares(drivers: readonly Driver[], frequencyHz: number): Complex[] {
  const totalM2 = drivers.reduce((sum, driver) => sum + Math.abs(driver.gain ?? 1) * driverAreaM2(driver), 0)
  return drivers.map((driver) =>
    fromPolar(((driver.gain ?? 1) * driverAreaM2(driver)) / totalM2, -2 * Math.PI * frequencyHz * (driver.delayS ?? 0)),
  )
}

function disc(radiusM: number, wavenumber: number): Aperture {
  const velocityMps = 1 / (Math.PI * radiusM * radiusM)
  const ka = wavenumber * radiusM
  const radial = gaussRule(6 + Math.ceil(ka / 2))
  const steps = 16 + 2 * Math.ceil(ka)
  const count = radial.nodes.length * steps
  const nodes = {
    u: new Float64Array(count),
    v: new Float64Array(count),
    re: new Float64Array(count),
    im: new Float64Array(count),
  }
  for (let i = 0, at = 0; i < radial.nodes.length; i++) {
    // Even steps in area, so that smooth functions of x and y stay polynomials.
    const r = radiusM * Math.sqrt((1 + (radial.nodes[i] as number)) / 2)
    for (let m = 0; m < steps; m++, at++) {
      const angleRad = (2 * Math.PI * (m + 0.5)) / steps
      nodes.u[at] = r * Math.cos(angleRad)
      nodes.v[at] = r * Math.sin(angleRad)
      nodes.re[at] = (radial.weights[i] as number) / 2 / steps
    }
  }
  return {
    nodes,
    potential(u, v, heightM, out) {
      discPotential(radiusM, wavenumber, Math.sqrt(u * u + v * v), heightM, out)
      out[0] = (out[0] as number) * velocityMps
      out[1] = (out[1] as number) * velocityMps
    },
  }
}

function horn(driver: Extract<Driver, { kind: 'horn' }>, wavenumber: number): Aperture {
  const rectangle = hornWavefront(driver, wavenumber)
  const nodes = rectangleNodes(rectangle, wavenumber)
  let flowRe = 0
  let flowIm = 0
  for (let i = 0; i < nodes.re.length; i++) {
    flowRe += nodes.re[i] as number
    flowIm += nodes.im[i] as number
  }
  const scale = 1 / Math.hypot(flowRe, flowIm)
  return {
    nodes: { ...nodes, re: nodes.re.map((part) => part * scale), im: nodes.im.map((part) => part * scale) },
    potential(u, v, heightM, out) {
      rectanglePotential(rectangle, nodes, wavenumber, u, v, heightM, out)
      out[0] = (out[0] as number) * scale
      out[1] = (out[1] as number) * scale
    },
  }
}
