import type { Air } from '../../medium/air.ts'
import type { BoxSize } from '../cabinet.ts'

/** Points on a wavelength unless another number is asked for. */
export const usualPointsPerWavelength = 8

/** Points along half an edge that a cube needs in the longest wave. */
const pointsOfEdges = 4.2

/** Points along half an edge for a radian of the wave, where the wave decides. */
const pointsPerRadian = 0.8

/** Meshes are made for this many frequencies an octave; those between take the next finer one, whose quadrature is kept. */
const meshesPerOctave = 8

/**
 * Points along half of each edge of a box, x, y, z. Two things want points: edges and slimness, at any frequency, and the wave:
 *
 *   n = 4.2 + √(s² + (0.8 kL)²),   s = L over the shortest half edge
 *
 * times √(points per wavelength/8). Where the wave decides, that is about the asked number of points on a wavelength. The sum
 * of squares and its numbers were found by refinement (boxes of 0.1 to 1.2 m, slim, flat, cubes; drivers small, large, at an edge).
 *
 * @param wavenumber           rad/m
 * @param pointsPerWavelength  3 … 40
 */
export function pointsAlong(size: BoxSize, wavenumber: number, pointsPerWavelength: number): [number, number, number] {
  const meshed = meshedWavenumber(size, wavenumber)
  const halves = [size.widthM / 2, size.heightM / 2, size.depthM / 2]
  const shortestM = Math.min(...halves)
  const share = Math.sqrt(pointsPerWavelength / usualPointsPerWavelength)
  return halves.map((halfM) =>
    Math.max(2, Math.round(share * (pointsOfEdges + Math.hypot(halfM / shortestM, pointsPerRadian * meshed * halfM)))),
  ) as [number, number, number]
}

/** The wavenumber that the mesh for a wavenumber is made for, not below it, rad/m. */
export function meshedWavenumber({ widthM, heightM, depthM }: BoxSize, wavenumber: number): number {
  const longestM = Math.max(widthM, heightM, depthM) / 2
  const step = Math.max(0, Math.ceil(meshesPerOctave * Math.log2(wavenumber * longestM) - 1e-9))
  return 2 ** (step / meshesPerOctave) / longestM
}

/**
 * Interior points of the eighth: three for each resonance of the inside (pressure 0 on its walls) below the frequency that is meshed, by
 * Weyl's count V k³/6π², and twelve more.
 */
export function interiorCount(size: BoxSize, wavenumber: number): number {
  const meshed = meshedWavenumber(size, wavenumber)
  const resonancesOfEighth = (size.widthM * size.heightM * size.depthM * meshed ** 3) / (6 * Math.PI ** 2) / 8
  return 12 + Math.ceil(3 * resonancesOfEighth)
}

/** What the mesh of a box for a frequency is known by: frequencies of one mesh have their quadrature in common. */
export const boxMeshKey = (size: BoxSize, wavenumber: number, pointsPerWavelength = usualPointsPerWavelength): string =>
  JSON.stringify([
    size.widthM,
    size.heightM,
    size.depthM,
    pointsAlong(size, wavenumber, pointsPerWavelength),
    interiorCount(size, wavenumber),
  ])

/** Points on an eighth of a box at a frequency. */
export function pointsOfEighth(size: BoxSize, frequencyHz: number, air: Air, pointsPerWavelength: number): number {
  const wavenumber = (2 * Math.PI * frequencyHz) / air.speedOfSoundMps
  const [x, y, z] = pointsAlong(size, wavenumber, pointsPerWavelength)
  return x * y + y * z + z * x
}

/** Highest frequency whose mesh stays within a number of points on an eighth of the box, by bisection. */
export function ceilingForPointsHz(size: BoxSize, air: Air, pointsPerWavelength: number, points: number): number {
  let low = 1e-6
  let high = 1e6
  for (let round = 0; round < 60; round++) {
    const middle = Math.sqrt(low * high)
    if (pointsOfEighth(size, middle, air, pointsPerWavelength) <= points) low = middle
    else high = middle
  }
  return low
}
