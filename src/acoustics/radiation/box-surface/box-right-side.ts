import type { Complex } from '../../complex.ts'
import type { Apertures } from '../boundary-elements/driver-apertures.ts'
import { sortPanelParities } from '../boundary-elements/mirror-planes.ts'
import type { Driver } from '../cabinet.ts'
import { boxImages } from './box-double-layer.ts'
import { type BoxEquations, testPlace } from './box-equations.ts'
import { projectOnFace } from './face-projection.ts'

/** What a source puts into the equations of a box. */
export type BoxRightSide = {
  /** By parity: row after row, Pa. */
  re: Float64Array
  im: Float64Array
  /** Whether a parity is there at all. */
  present: boolean[]
}

/** Right-hand sides weaker than this share of the strongest are rounding: that parity of the sound does not exist. */
const silentParity = 1e-12

/**
 * jωρ times the apertures' potential at every test place, sorted into parities; on the front face as projectOnFace has it.
 *
 * @param omegaRho  ωρ, kg/(m³ s)
 */
export function boxRightSide(
  equations: BoxEquations,
  drivers: readonly Driver[],
  apertures: Apertures,
  wavenumber: number,
  omegaRho: number,
): BoxRightSide {
  const alike = { x: drivers.every(({ xM }) => xM === 0), y: drivers.every(({ yM }) => yM === 0) }
  const { re, im } = ofImages(equations, alike, (signs, partRe, partIm) =>
    setPotential(equations, drivers, apertures, signs, wavenumber, partRe, partIm),
  )
  // jωρ (a + jb)
  const turned = re.map((value) => omegaRho * value)
  return sorted(
    im.map((value) => -omegaRho * value),
    turned,
  )
}

/**
 * The same of sound that comes from outside, while the box is still.
 *
 * @param pressureAt  the sound without the box, Pa, at a place about the middle of the box
 */
export function incomingRightSide(
  equations: BoxEquations,
  pressureAt: (x: number, y: number, z: number) => Complex,
): BoxRightSide {
  const { re, im } = ofImages(equations, { x: false, y: false }, ([sx, sy, sz], partRe, partIm) => {
    for (let row = 0; row < equations.rows; row++) {
      const [x, y, z] = testPlace(equations, row)
      const pressure = pressureAt(sx * x, sy * y, sz * z)
      partRe[row] = pressure.re
      partIm[row] = pressure.im
    }
  })
  return sorted(re, im)
}

type Signs = readonly [number, number, number]

/** Numbers of every row for each image; those of images that are alike are made once. */
function ofImages(
  { rows }: BoxEquations,
  alike: { x: boolean; y: boolean },
  set: (signs: Signs, re: Float64Array, im: Float64Array) => void,
): { re: Float64Array; im: Float64Array } {
  const re = new Float64Array(boxImages.length * rows)
  const im = new Float64Array(boxImages.length * rows)
  for (const [image, signs] of boxImages.entries()) {
    const from = image * rows
    const twin = boxImages.findIndex(
      ([x, y, z]) => (alike.x || x === signs[0]) && (alike.y || y === signs[1]) && z === signs[2],
    )
    if (twin < image) {
      re.copyWithin(from, twin * rows, (twin + 1) * rows)
      im.copyWithin(from, twin * rows, (twin + 1) * rows)
    } else {
      set(signs, re.subarray(from, from + rows), im.subarray(from, from + rows))
    }
  }
  return { re, im }
}

/** Sorts numbers of the images into parities, in place, an equal share of each image. */
function sorted(re: Float64Array, im: Float64Array): BoxRightSide {
  const images = boxImages.length
  const rows = re.length / images
  for (const values of [re, im]) {
    sortPanelParities(values, images)
    for (let at = 0; at < values.length; at++) values[at] = (values[at] as number) / images
  }
  const strengths = boxImages.map((_, parity) => {
    let strength = 0
    for (let at = parity * rows; at < (parity + 1) * rows; at++) {
      strength = Math.max(strength, Math.abs(re[at] as number), Math.abs(im[at] as number))
    }
    return strength
  })
  const strongest = Math.max(...strengths)
  return { re, im, present: strengths.map((strength) => strength > silentParity * strongest) }
}

/** The potential at one image of all test places. */
function setPotential(
  equations: BoxEquations,
  drivers: readonly Driver[],
  { parts, addPotential }: Apertures,
  [sx, sy, sz]: Signs,
  wavenumber: number,
  re: Float64Array,
  im: Float64Array,
): void {
  const { points, rows } = equations
  const frontZM = points.faces[0].atM
  const onFront = sz > 0
  if (onFront) {
    for (const [index, driver] of drivers.entries()) {
      const add = (parts[index] as Apertures['parts'][number]).addPotential
      const middle = [sx * driver.xM, sy * driver.yM] as const
      projectOnFace(points.faces[0], driver, (x, y, out) => add(sx * x, sy * y, 0, out), middle, wavenumber, re, im)
    }
  }
  const out = new Float64Array(2)
  for (let row = onFront ? points.faces[1].first : 0; row < rows; row++) {
    const [x, y, z] = testPlace(equations, row)
    out.fill(0)
    addPotential(sx * x, sy * y, sz * z - frontZM, out)
    re[row] = out[0] as number
    im[row] = out[1] as number
  }
}
