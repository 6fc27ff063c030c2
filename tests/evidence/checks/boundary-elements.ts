import { magnitude } from '../../../src/acoustics/complex.ts'
import { makeAir } from '../../../src/acoustics/medium/air.ts'
import type { Point } from '../../../src/acoustics/point.ts'
import {
  boxPressureAt,
  boxSolution,
  surfacePowerW,
} from '../../../src/acoustics/radiation/boundary-elements/box-solution.ts'
import {
  type ExteriorProblem,
  exteriorSolution,
  surfaceIntegral,
} from '../../../src/acoustics/radiation/boundary-elements/exterior-solution.ts'
import { panelMesh } from '../../../src/acoustics/radiation/boundary-elements/panel-mesh.ts'
import type { Cabinet, Driver } from '../../../src/acoustics/radiation/cabinet.ts'
import { expansionRadiation } from '../../../src/acoustics/radiation/expansion-radiation.ts'
import { monopole } from '../../../src/acoustics/radiation/monopole.ts'
import { outgoingExpansion } from '../../../src/acoustics/radiation/outgoing-expansion.ts'
import { solveCabinet } from '../../../src/acoustics/radiation/solve-cabinet.ts'
import { spherePiston } from '../../../src/acoustics/radiation/sphere-piston.ts'
import { type Check, type CheckGroup, fromMemory, type Headline } from '../check.ts'
import reference from '../reference/box-scattering.json' with { type: 'json' }
import headline from '../reference/headline-digits.json' with { type: 'json' }
import { evenPanelsPotential, quadAreaM2, spherePanels } from '../sphere-panels.ts'

const air = { ...makeAir(), speedOfSoundMps: 343.2, densityKgM3: 1.2 }
const degrees = Math.PI / 180
const size = { widthM: 0.32, heightM: 0.56, depthM: 0.3 }
const woofer: Driver = { kind: 'piston', radiusM: 0.105, xM: 0, yM: -0.135 }
const horn: Driver = {
  kind: 'horn',
  mouthWidthM: 0.26,
  mouthHeightM: 0.17,
  horizontalCoverageRad: 90 * degrees,
  verticalCoverageRad: 60 * degrees,
  xM: 0.02,
  yM: 0.13,
}
const box: Cabinet = { ...size, drivers: [woofer] }
const fineness = { elementsPerWavelength: 8, fewestPanels: 4 }
const levelDb = (p: { re: number; im: number }): number => 20 * Math.log10(magnitude(p))
const headlineProgram = headline.source.split(', ').slice(1).join(', ')
const idPart = (value: number): string => String(value).replace('.', '-')

/** A sphere of flat panels, 1 m in radius, with a moving cap, solved: its pressure at a place outside. */
function panelSphere(ka: number, fold: number): (place: Point) => { re: number; im: number } {
  const frequencyHz = (ka * air.speedOfSoundMps) / (2 * Math.PI)
  const shape = { bands: 6 * fold, capBands: fold, capRad, roundQuarter: 2 * fold }
  const whole = spherePanels(shape, 'whole')
  const cap = whole.quads.filter((_, i) => whole.isCap[i])
  const flowM2 = cap.reduce((sum, quad) => sum + quadAreaM2(quad), 0)
  const problem: ExteriorProblem = {
    mesh: panelMesh(spherePanels(shape, 'quarter').quads),
    planes: { x: true, y: true, z: false },
    wavenumber: ka,
    velocityPotential: evenPanelsPotential(cap, 1 / flowM2, {
      wavenumber: ka,
      omegaRho: 2 * Math.PI * frequencyHz * air.densityKgM3,
    }),
    interiorPoints: [
      { xM: 0.1, yM: 0.2, zM: 0.3 },
      { xM: 0.3, yM: 0.15, zM: -0.2 },
      { xM: 0.45, yM: 0.3, zM: 0.4 },
      { xM: 0.2, yM: 0.5, zM: -0.5 },
      { xM: 0.05, yM: 0.07, zM: -0.1 },
      { xM: 0.6, yM: 0.1, zM: 0.05 },
    ],
  }
  const solved = exteriorSolution(problem)
  return (place) => surfaceIntegral(solved, problem, place)
}

const capRad = 30 * degrees

/** Greatest difference, dB, between a cap on a sphere of flat panels and the series, all round at two radii. */
function sphereErrorDb(ka: number, fold: number): number {
  const frequencyHz = (ka * air.speedOfSoundMps) / (2 * Math.PI)
  const solvedAt = panelSphere(ka, fold)
  const exact = spherePiston({ radiusM: 1, capHalfAngleRad: capRad, motion: 'radial' }, frequencyHz, air)
  let worst = 0
  for (let i = 0; i <= 12; i++) {
    const angle = 15 * i * degrees
    const place = { xM: 1.6 * Math.sin(angle), yM: 1.2 * Math.sin(angle), zM: 2 * Math.cos(angle) }
    const difference = levelDb(solvedAt(place)) - levelDb(exact.pressureAt(place))
    worst = Math.max(worst, Math.abs(difference))
  }
  return worst
}

const spheres: Check[] = (
  [
    [0.5, 4],
    [2, 4],
    [5, 8],
  ] as const
).map(([ka, fold]) => ({
  id: `panels-sphere-ka-${idPart(ka)}`,
  kind: 'method',
  quantity:
    'Boundary elements on a sphere of flat panels with a moving cap, against the series: greatest level difference',
  unit: 'dB',
  source: 'morse-ingard-theoretical-acoustics',
  place: 'section 7.2',
  input: `ka = ${ka}, cap of 30°, 13 places all round at two radii, ${48 * fold * fold} panels`,
  expected: 0,
  tolerance: 0.1,
  toleranceReason:
    'flat panels on a round body err by the square of their size; the worst place is 28 dB below the axis',
  computed: () => sphereErrorDb(ka, fold),
}))

/** The panels of the headline spheres: about eight a wavelength, and no fewer than round off the cap. */
const headlineFold = { '63': 4, '1k': 8 } as const

/** The boundary elements themselves against published values: a ball as large as the demo sub at 63 Hz, and as the top at 1 kHz. */
const headlineSpheres: Check[] = headline.sphere.flatMap(({ at, ka, radii, where, angle, frequencyHz, level_dB }) =>
  at === '4k'
    ? []
    : [
        {
          id: `panels-${where}-${at}`,
          kind: 'outside',
          about: [`${where}-${at}` as Headline],
          quantity: `Boundary elements, cap on a sphere: level ${where === 'front' ? 'in front' : where} re the same flow in free space`,
          unit: 'dB',
          source: 'morse-ingard-theoretical-acoustics',
          place: `section 7.2, series summed by headline-digits.py (${headlineProgram})`,
          input: `${frequencyHz} Hz on a ball with the surface of a demo box, kR = ${ka}, cap of 30°, ${angle}°, ${radii} radii from the centre`,
          expected: level_dB,
          tolerance: 0.1,
          toleranceReason: 'flat panels on a round body err by the square of their size',
          computed: () => {
            const solvedAt = panelSphere(ka, headlineFold[at as keyof typeof headlineFold])
            const place = { xM: radii * Math.sin(angle * degrees), yM: 0, zM: radii * Math.cos(angle * degrees) }
            const free = monopole((ka * air.speedOfSoundMps) / (2 * Math.PI), air)
            return levelDb(solvedAt(place)) - levelDb(free.pressureAt({ xM: 0, yM: 0, zM: radii }))
          },
        } satisfies Check,
      ],
)

/** Solved once for all places of a frequency. */
const fineSolutions = new Map<number, ReturnType<typeof boxSolution>>()
function fineSolution(frequencyHz: number): ReturnType<typeof boxSolution> {
  const known = fineSolutions.get(frequencyHz)
  if (known) return known
  const solution = boxSolution(box, frequencyHz, air, { elementsPerWavelength: 20, fewestPanels: 4 })
  fineSolutions.set(frequencyHz, solution)
  return solution
}

const roundDegrees = (yM: number, zM: number): number => Math.round(Math.atan2(yM, zM) / degrees)

const otherMethod: Check[] = reference.pressures.map(({ frequencyHz, xM, yM, zM, pressurePa, scatterDb }) => ({
  id: `box-other-method-${frequencyHz}-${(roundDegrees(yM, zM) + 360) % 360}`,
  kind: 'method',
  quantity: 'Piston on a box: level outside, against reciprocity and an indirect boundary integral',
  unit: 'dB',
  source: 'numpy',
  place: 'box-scattering.py',
  input: `0.32 × 0.56 × 0.30 m, ${frequencyHz} Hz, 1.5 m away, ${roundDegrees(yM, zM)}° upward round, 20 panels a wavelength`,
  expected: 20 * Math.log10(Math.hypot(...(pressurePa as [number, number]))),
  tolerance: 0.1 + scatterDb,
  toleranceReason: `0.1 dB is left of the mesh at 20 panels a wavelength; ${scatterDb} dB is what the other method’s extrapolation changed`,
  computed: () => levelDb(boxPressureAt(fineSolution(frequencyHz), { xM, yM, zM })),
}))

/** Mean pressure on the piston when a point source of unit flow stands outside the box, Pa. */
function receivedPa(place: Point, frequencyHz: number): { re: number; im: number } {
  const { problem, apertures } = boxSolution(box, frequencyHz, air, fineness)
  const source = monopole(frequencyHz, air)
  const about = { xM: place.xM, yM: place.yM, zM: place.zM + size.depthM / 2 }
  const scattering: ExteriorProblem = {
    ...problem,
    velocityPotential(x, y, z, out) {
      const p = source.pressureAt({ xM: x - about.xM, yM: y - about.yM, zM: z - about.zM })
      out[0] = (out[0] as number) + p.re
      out[1] = (out[1] as number) + p.im
    },
  }
  const solved = exteriorSolution(scattering)
  const { x, y, re } = apertures.nodes
  const mean = { re: 0, im: 0 }
  for (let i = 0; i < x.length; i++) {
    // On the surface the integral gives half.
    const p = surfaceIntegral(solved, scattering, { xM: x[i] as number, yM: y[i] as number, zM: size.depthM / 2 })
    mean.re += 2 * (re[i] as number) * p.re
    mean.im += 2 * (re[i] as number) * p.im
  }
  return mean
}

const reciprocity: Check[] = (
  [
    [300, { xM: 0.4, yM: 0.3, zM: 1.2 }],
    [700, { xM: 0.5, yM: -0.2, zM: -0.9 }],
  ] as const
).map(([frequencyHz, place]) => ({
  id: `box-reciprocity-${frequencyHz}`,
  kind: 'law',
  quantity: 'Box: piston as source and point as receiver against point as source and piston as receiver',
  unit: 'dB',
  source: 'morse-ingard-theoretical-acoustics',
  place: 'reciprocity, an exact relation',
  input: `${frequencyHz} Hz, point at (${place.xM}, ${place.yM}, ${place.zM}) m`,
  expected: 0,
  tolerance: 0.1,
  toleranceReason: 'the two ways use the panels differently, so the default mesh’s own error of 0.1 dB shows',
  computed: () =>
    levelDb(receivedPa(place, frequencyHz)) -
    levelDb(boxPressureAt(boxSolution(box, frequencyHz, air, fineness), place)),
}))

/** The first five resonances of the box’s inside with zero pressure on its walls, where a plain boundary integral fails. */
const resonancesHz = [1, 2, 3]
  .flatMap((a) => [1, 2, 3, 4].flatMap((b) => [1, 2, 3].map((c) => [a, b, c] as const)))
  .map(([a, b, c]) => (air.speedOfSoundMps / 2) * Math.hypot(a / size.widthM, b / size.heightM, c / size.depthM))
  .sort((p, q) => p - q)
  .slice(0, 5)

const resonances: Check[] = resonancesHz.map((resonanceHz) => ({
  id: `box-no-spike-${Math.round(resonanceHz)}`,
  kind: 'law',
  quantity: 'No spike at a resonance of the box’s inside: greatest bend of the level from one hertz to the next two',
  unit: 'dB',
  source: 'schenck-1968-integral',
  place: 'the failure that interior points prevent',
  input: `${Math.round(resonanceHz)} ± 5 Hz in steps of 1 Hz, behind the box, one mesh, driver off the middle`,
  expected: 0,
  tolerance: 0.005,
  toleranceReason:
    'a smooth response bends by less than 0.001 dB in 1 Hz here; without interior points the spike is of whole dB',
  computed: () => {
    const levels = Array.from({ length: 11 }, (_, i) => {
      const frequencyHz = Math.round(resonanceHz) + i - 5
      const cabinet: Cabinet = { ...size, drivers: [{ kind: 'piston', radiusM: 0.1, xM: 0.03, yM: -0.135 }] }
      const solution = boxSolution(cabinet, frequencyHz, air, {
        elementsPerWavelength: air.speedOfSoundMps / frequencyHz / 0.045,
        fewestPanels: 2,
      })
      return levelDb(boxPressureAt(solution, { xM: 0.2, yM: 0.3, zM: -1.3 }))
    })
    const bends = levels
      .slice(1, -1)
      .map((level, i) => Math.abs((levels[i] as number) - 2 * level + (levels[i + 2] as number)))
    return Math.max(...bends)
  },
}))

const energy: Check[] = ([100, 500, 1500] as const).map((frequencyHz) => ({
  id: `box-energy-${frequencyHz}`,
  kind: 'law',
  quantity: 'Box with a piston and a horn: power through the drivers over power in the far field',
  unit: 'dB',
  source: 'morse-vibration-and-sound',
  place: 'conservation of energy, an exact relation',
  input: `${frequencyHz} Hz`,
  expected: 0,
  tolerance: 0.05,
  toleranceReason:
    'one comes from the pressure on the front face, the other from the outgoing waves; panels err by some hundredths of a dB',
  computed: () => {
    const solution = boxSolution({ ...size, drivers: [woofer, horn] }, frequencyHz, air, fineness)
    const far = expansionRadiation(outgoingExpansion(solution, air), air)
    return 10 * Math.log10(surfacePowerW(solution) / far.powerW)
  },
}))

const limits: Check[] = [
  {
    id: 'box-limit-low',
    kind: 'law',
    quantity:
      'Box with a piston, wave far longer than the box: level all round re a point source in free space, at the worst of six directions',
    unit: 'dB',
    source: 'kinsler-frey-fundamentals',
    place: 'section 7.1',
    input: '2 Hz, 1000 m',
    expected: 0,
    tolerance: 0.005,
    toleranceReason:
      'the sound seems to come from up to 0.3 m off the middle, 0.03 % of the distance, 0.003 dB; terms of (ka)² are below 0.001 dB',
    computed: () => {
      const solved = solveCabinet(box, 2, air)
      const free = monopole(2, air)
      const ways = [
        [0, 0, 1],
        [0, 0, -1],
        [1, 0, 0],
        [-1, 0, 0],
        [0, 1, 0],
        [0, -1, 0],
      ] as const
      const differences = ways.map(([x, y, z]) => {
        const place = { xM: 1000 * x, yM: 1000 * y, zM: 1000 * z - size.depthM / 2 }
        const fromMiddle = { xM: 1000 * x, yM: 1000 * y, zM: 1000 * z }
        return levelDb(solved.pressureAt(place)) - levelDb(free.pressureAt(fromMiddle))
      })
      return differences.reduce((a, b) => (Math.abs(b) > Math.abs(a) ? b : a))
    },
  },
  {
    id: 'box-limit-high',
    kind: 'law',
    quantity:
      'Box with a piston, wave far shorter than the box: level on axis re a point source in free space, pressure doubling',
    unit: 'dB',
    source: 'kinsler-frey-fundamentals',
    place: 'section 7.4, a piston in a baffle',
    input: '10 kHz, 100 m',
    expected: 20 * Math.log10(2),
    tolerance: 0.05,
    toleranceReason:
      'the piston’s beam hardly lights the edges: 0.05 dB is their share at 40 dB below the axis, and 0.001 dB the distance',
    computed: () => {
      const place = { xM: 0, yM: woofer.yM, zM: 100 }
      const free = monopole(10000, air).pressureAt({ xM: 0, yM: 0, zM: 100 })
      return levelDb(solveCabinet(box, 10000, air).pressureAt(place)) - levelDb(free)
    },
  },
  {
    id: 'box-mesh-order',
    kind: 'method',
    quantity:
      'Box: power of the mean panel width with which the difference from the other method falls, r.m.s. of seven places',
    unit: '1',
    source: 'numpy',
    place: 'box-scattering.py',
    input: '500 Hz, 4 and 8 even panels on half of an edge',
    expected: 4 / 3,
    relation: 'at least',
    tolerance: 0.2,
    toleranceReason:
      'the pressure near an edge goes like the 2/3 power of the distance, which leaves 4/3 of the order 2 of smooth faces; the other method’s own 0.01 dB shifts the order by 0.2',
    computed: () => {
      const rows = reference.pressures.filter(({ frequencyHz }) => frequencyHz === 500)
      const meshes = [4, 8].map((fewestPanels) => {
        const solution = boxSolution(box, 500, air, { elementsPerWavelength: 4, fewestPanels })
        const sum = rows.reduce((total, { xM, yM, zM, pressurePa }) => {
          const expectedDb = 20 * Math.log10(Math.hypot(...(pressurePa as [number, number])))
          return total + (levelDb(boxPressureAt(solution, { xM, yM, zM })) - expectedDb) ** 2
        }, 0)
        return { errorDb: Math.sqrt(sum / rows.length), unknowns: solution.unknowns }
      })
      const [coarse, fine] = meshes as [(typeof meshes)[number], (typeof meshes)[number]]
      return Math.log(coarse.errorDb / fine.errorDb) / Math.log(Math.sqrt(fine.unknowns / coarse.unknowns))
    },
  },
]

/** On-axis levels of a cube of 0.4 m with a small source in the middle of one face, re free space, by edge over wavelength. */
function cubeRise(): { ratio: number; levelDb: number } {
  const edgeM = 0.4
  let best = { ratio: 0, levelDb: Number.NEGATIVE_INFINITY }
  for (let ratio = 0.5; ratio <= 1.5; ratio += 0.05) {
    const frequencyHz = (ratio * air.speedOfSoundMps) / edgeM
    const cube: Cabinet = {
      widthM: edgeM,
      heightM: edgeM,
      depthM: edgeM,
      drivers: [{ kind: 'piston', radiusM: 0.02, xM: 0, yM: 0 }],
    }
    const solution = boxSolution(cube, frequencyHz, air, fineness)
    const place = { xM: 0, yM: 0, zM: 40 }
    const rise = levelDb(boxPressureAt(solution, place)) - levelDb(monopole(frequencyHz, air).pressureAt(place))
    if (rise > best.levelDb) best = { ratio, levelDb: rise }
  }
  return best
}

const cube: Check[] = [
  {
    id: 'cube-peak-level',
    kind: 'practice',
    quantity: 'Cube with a small source in the middle of one face: highest level on axis re long waves',
    unit: 'dB',
    source: fromMemory,
    place: 'shape of the cube’s curve in H. F. Olson, Direct radiator loudspeaker enclosures',
    input: 'edge of 0.5 to 1.5 wavelengths',
    expected: 10,
    tolerance: 1,
    toleranceReason: 'remembered from a small printed curve, not read off it anew',
    computed: () => cubeRise().levelDb,
  },
  {
    id: 'cube-peak-place',
    kind: 'practice',
    quantity: 'Cube with a small source in the middle of one face: edge over wavelength at the highest level on axis',
    unit: '1',
    source: fromMemory,
    place: 'shape of the cube’s curve in H. F. Olson, Direct radiator loudspeaker enclosures',
    input: 'edge of 0.5 to 1.5 wavelengths',
    expected: 1,
    tolerance: 0.25,
    toleranceReason:
      'remembered as near one; sound turned at the edges arrives half a wavelength late there and turned round',
    computed: () => cubeRise().ratio,
  },
]

const edgesAlone: Check[] = [
  ...([0, 30, 60, 90] as const).map(
    (angleDegrees): Check => ({
      id: `box-edges-alone-${angleDegrees}`,
      kind: 'method',
      quantity:
        'Small source on a box: edge model alone against boundary elements, two theories that share nothing but the source',
      unit: 'dB',
      source: 'svensson-1999-edge',
      place: 'first and second order, four front and four rear edges',
      input: `2 kHz, ${angleDegrees}° to the side, 100 m`,
      expected: 0,
      tolerance: angleDegrees < 90 ? 0.3 : 0.5,
      toleranceReason: 'the mesh errs by up to 0.3 dB; to the side sound that turns three edges is left out',
      computed: () => {
        const cabinet: Cabinet = { ...size, drivers: [{ kind: 'piston', radiusM: 0.012, xM: 0.03, yM: 0.1 }] }
        const angle = angleDegrees * degrees
        const place = { xM: 100 * Math.sin(angle), yM: 0, zM: 100 * Math.cos(angle) }
        const alone = solveCabinet(cabinet, 2000, air, { method: 'high-frequency' })
        const solved = expansionRadiation(outgoingExpansion(boxSolution(cabinet, 2000, air, fineness), air), air)
        return levelDb(alone.pressureAt(place)) - levelDb(solved.pressureAt(place))
      },
    }),
  ),
]

/** Boundary elements on a box, and the model above their reach. */
export const boundaryElementChecks: CheckGroup = {
  title: 'Boundary elements and edges of a box',
  checks: [
    ...headlineSpheres,
    ...spheres,
    ...otherMethod,
    ...reciprocity,
    ...resonances,
    ...energy,
    ...limits,
    ...cube,
    ...edgesAlone,
  ],
}
