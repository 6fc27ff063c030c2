import { describe, expect, it } from 'vitest'
import { makeAir } from '../../../src/acoustics/medium/air.ts'
import type { Point } from '../../../src/acoustics/point.ts'
import { driverApertures } from '../../../src/acoustics/radiation/boundary-elements/driver-apertures.ts'
import { imageSigns } from '../../../src/acoustics/radiation/boundary-elements/mirror-planes.ts'
import { interiorEighth } from '../../../src/acoustics/radiation/box-surface/interior-points.ts'
import type { BoxSize, Driver } from '../../../src/acoustics/radiation/cabinet.ts'
import { spherePiston } from '../../../src/acoustics/radiation/sphere-piston.ts'
import { type ExteriorProblem, exteriorSolution, surfaceIntegral } from './exterior-solution.ts'
import { groupQuads } from './group-mesh.ts'
import { panelMesh, type Quad } from './panel-mesh.ts'
import { evenPanelsPotential, quadAreaM2, spherePanels } from './sphere-panels.ts'

const air = makeAir()
const allPlanes = { x: true, y: true, z: true }

/** The eighth of a box about the origin in panels. */
const boxEighth = ({ widthM, heightM, depthM }: BoxSize, widestM: number): Quad[] =>
  groupQuads(
    [{ from: [-widthM / 2, -heightM / 2, -depthM / 2], to: [widthM / 2, heightM / 2, depthM / 2] }],
    allPlanes,
    widestM,
    2,
  )

/** A box with drivers on its front, an eighth of it in panels. */
function boxProblem(box: BoxSize, drivers: Driver[], frequencyHz: number, widestM: number): ExteriorProblem {
  const wavenumber = (2 * Math.PI * frequencyHz) / air.speedOfSoundMps
  const { addPotential } = driverApertures(drivers, frequencyHz, wavenumber)
  return {
    mesh: panelMesh(boxEighth(box, widestM)),
    planes: allPlanes,
    movingPlaneZM: box.depthM / 2,
    wavenumber,
    interiorPoints: interiorEighth(box, 14),
    velocityPotential: (x, y, z, out) => addPotential(x, y, z - box.depthM / 2, out),
  }
}

const size = { widthM: 0.32, heightM: 0.56, depthM: 0.3 }
const offCentre: Driver[] = [
  { kind: 'piston', radiusM: 0.08, xM: 0.05, yM: -0.15 },
  { kind: 'piston', radiusM: 0.03, xM: -0.07, yM: 0.2, gain: -2, delayS: 0.0004 },
]
const places: Point[] = [
  { xM: 0.1, yM: 0.2, zM: 1 },
  { xM: -0.7, yM: 0.1, zM: 0.05 },
  { xM: 0.2, yM: -0.3, zM: -0.9 },
  { xM: 0.02, yM: 0.01, zM: -0.2 },
]

/** The whole of a body of which an eighth is given. */
function mirrored(quads: Quad[]): Quad[] {
  return imageSigns({ x: true, y: true, z: true }).flatMap(([sx, sy, sz]) =>
    quads.map((quad): Quad => {
      const [a, b, c, d] = quad.map(({ xM, yM, zM }) => ({ xM: sx * xM, yM: sy * yM, zM: sz * zM })) as [
        Point,
        Point,
        Point,
        Point,
      ]
      // A mirror turns the corners round; the normal has to stay outside.
      return sx * sy * sz > 0 ? [a, b, c, d] : [a, d, c, b]
    }),
  )
}

function mirroredPoints(points: readonly Point[]): Point[] {
  return imageSigns({ x: true, y: true, z: true }).flatMap(([sx, sy, sz]) =>
    points.map(({ xM, yM, zM }) => ({ xM: sx * xM, yM: sy * yM, zM: sz * zM })),
  )
}

describe('the surface of a body', () => {
  it('is solved alike in one piece and by mirror planes', () => {
    const split = boxProblem(size, offCentre, 700, 0.12)
    const problem: ExteriorProblem = {
      ...split,
      mesh: panelMesh(mirrored(boxEighth(size, 0.12))),
      planes: { x: false, y: false, z: false },
      interiorPoints: mirroredPoints(split.interiorPoints),
    }
    const parts = exteriorSolution(split)
    const whole = exteriorSolution(problem)
    expect(whole.re.length).toBe(parts.re.length)
    for (const place of places) {
      const a = surfaceIntegral(parts, split, place)
      const b = surfaceIntegral(whole, problem, place)
      // 1e-6 is asked for; the two differ by rounding only
      expect(Math.hypot(a.re - b.re, a.im - b.im) / Math.hypot(b.re, b.im)).toBeLessThan(1e-9)
    }
  })

  it('leaves out the parities that a centred driver does not have', () => {
    const surface = exteriorSolution(boxProblem(size, [{ kind: 'piston', radiusM: 0.1, xM: 0, yM: 0 }], 300, 0.14))
    const count = surface.mesh.count
    for (let j = 0; j < count; j++) {
      expect(surface.re[count + j]).toBe(surface.re[j])
      expect(surface.im[2 * count + j]).toBe(surface.im[j])
    }
  })

  it('has no answer of its own at a resonance of the inside without points there, and the right one with them', () => {
    // Cube of 0.4 m, lowest resonance √3 c/2a; panels of at most 33 mm
    const cube = { widthM: 0.4, heightM: 0.4, depthM: 0.4 }
    const drivers: Driver[] = [{ kind: 'piston', radiusM: 0.1, xM: 0, yM: 0 }]
    const resonanceHz = (Math.sqrt(3) * air.speedOfSoundMps) / 0.8
    // Nearest the resonance of the mesh, which lies some hertz off the exact one
    const worst = (points: number): number => {
      let largest = 0
      for (let offHz = -4; offHz <= 4; offHz++) {
        const problem = {
          ...boxProblem(cube, drivers, resonanceHz + offHz, 0.033),
          interiorPoints: interiorEighth(cube, points),
        }
        const solved = exteriorSolution(problem)
        // Inside the body there must be silence.
        const inside = surfaceIntegral(solved, problem, { xM: 0.03, yM: 0.05, zM: -0.07 })
        const outside = surfaceIntegral(solved, problem, { xM: 0.03, yM: 0.05, zM: -0.4 })
        largest = Math.max(largest, Math.hypot(inside.re, inside.im) / Math.hypot(outside.re, outside.im))
      }
      return largest
    }
    expect(worst(0)).toBeGreaterThan(0.3)
    expect(worst(12)).toBeLessThan(0.03)
  })
})

describe('the edges of a box', () => {
  const cube = { widthM: 0.32, heightM: 0.32, depthM: 0.32 }
  const wavenumber = 5.5
  const round = Array.from({ length: 24 }, (_, i) => {
    const cosine = -1 + (2 * (i + 0.5)) / 24
    const s = 3 * Math.sqrt(1 - cosine ** 2)
    return { xM: s * Math.cos(2.4 * i), yM: s * Math.sin(2.4 * i), zM: 3 * cosine }
  })
  /** Sound round a cube in the wave of a point source, panels graded towards the edges by a power of their number. */
  const scattered = (panels: number, power: number) => {
    const places = Array.from({ length: panels + 1 }, (_, i) => 0.16 * (1 - (1 - i / panels) ** power))
    const tiles = places.slice(1).flatMap((to, i) => places.slice(1).map((up, j) => [places[i], to, places[j], up]))
    const quads = (tiles as [number, number, number, number][]).flatMap(([a, b, c, d]): Quad[] => {
      const face = (at: (u: number, v: number) => Point): Quad => [at(a, c), at(b, c), at(b, d), at(a, d)]
      return [
        face((u, v) => ({ xM: u, yM: v, zM: 0.16 })),
        face((u, v) => ({ xM: 0.16, yM: u, zM: v })),
        face((u, v) => ({ xM: v, yM: 0.16, zM: u })),
      ]
    })
    const problem: ExteriorProblem = {
      mesh: panelMesh(quads),
      planes: { x: true, y: true, z: true },
      wavenumber,
      interiorPoints: interiorEighth(cube, 12),
      // On the axis, so that the sound is alike left and right, above and below.
      velocityPotential: (x, y, z, out) => {
        const r = Math.hypot(x, y, z - 0.9)
        out[0] = (out[0] as number) + Math.cos(wavenumber * r) / r
        out[1] = (out[1] as number) - Math.sin(wavenumber * r) / r
      },
    }
    const solved = exteriorSolution(problem)
    return round.map((place) => surfaceIntegral(solved, problem, place))
  }
  const difference = (a: ReturnType<typeof scattered>, b: ReturnType<typeof scattered>) =>
    Math.sqrt(a.reduce((sum, p, i) => sum + (p.re - (b[i]?.re ?? 0)) ** 2 + (p.im - (b[i]?.im ?? 0)) ** 2, 0))
  const order = (power: number) => {
    const [coarse, middle, fine] = [3, 6, 12].map((panels) => scattered(panels, power)) as [
      ReturnType<typeof scattered>,
      ReturnType<typeof scattered>,
      ReturnType<typeof scattered>,
    ]
    return Math.log2(difference(coarse, middle) / difference(middle, fine))
  }

  it('set the order of the error: about 4/3 with even panels, about 2 with panels graded by the square', () => {
    expect(Math.abs(order(1) - 4 / 3)).toBeLessThan(0.15)
    expect(order(2)).toBeGreaterThan(1.7)
  })
})

describe('a sphere of flat panels with a moving cap', () => {
  it('nears the series for the sphere, by the square of the panel size', () => {
    const capRad = Math.PI / 6
    const frequencyHz = (2 * air.speedOfSoundMps) / (2 * Math.PI)
    const exact = spherePiston({ radiusM: 1, capHalfAngleRad: capRad, motion: 'radial' }, frequencyHz, air)
    const error = (fold: number): number => {
      const shape = { bands: 6 * fold, capBands: fold, capRad, roundQuarter: 2 * fold }
      const whole = spherePanels(shape, 'whole')
      const cap = whole.quads.filter((_, i) => whole.isCap[i])
      const flowM2 = cap.reduce((sum, quad) => sum + quadAreaM2(quad), 0)
      const problem: ExteriorProblem = {
        mesh: panelMesh(spherePanels(shape, 'quarter').quads),
        planes: { x: true, y: true, z: false },
        wavenumber: 2,
        velocityPotential: evenPanelsPotential(cap, 1 / flowM2, {
          wavenumber: 2,
          omegaRho: 2 * Math.PI * frequencyHz * air.densityKgM3,
        }),
        interiorPoints: [{ xM: 0.2, yM: 0.3, zM: 0.1 }],
      }
      const solved = exteriorSolution(problem)
      let worst = 0
      for (let i = 0; i <= 12; i++) {
        const angle = (Math.PI * i) / 12
        const place = { xM: 1.2 * Math.sin(angle), yM: 1.6 * Math.sin(angle), zM: 2 * Math.cos(angle) }
        const [p, q] = [surfaceIntegral(solved, problem, place), exact.pressureAt(place)]
        worst = Math.max(worst, Math.abs(20 * Math.log10(Math.hypot(p.re, p.im) / Math.hypot(q.re, q.im))))
      }
      return worst
    }
    const [coarse, fine] = [error(2), error(4)]
    expect(fine).toBeLessThan(0.1)
    expect(Math.log2(coarse / fine)).toBeGreaterThan(1.5)
  })
})
