import { add, type Complex, divide, fromPolar, magnitude, multiply } from '../../../src/acoustics/complex.ts'
import { makeAir } from '../../../src/acoustics/medium/air.ts'
import type { Point } from '../../../src/acoustics/point.ts'
import { type CabinetGroup, solveCabinetGroup } from '../../../src/acoustics/radiation/box-group/cabinet-group.ts'
import type { GroupBox, GroupPlace } from '../../../src/acoustics/radiation/box-group/group-geometry.ts'
import {
  type BoxSolution,
  boxPressureAt,
  boxSolution,
} from '../../../src/acoustics/radiation/box-surface/box-solution.ts'
import type { Cabinet } from '../../../src/acoustics/radiation/cabinet.ts'
import { monopole } from '../../../src/acoustics/radiation/monopole.ts'
import { gaussLegendre } from '../../../src/acoustics/special/gauss-legendre.ts'
import type { Check, CheckGroup } from '../check.ts'
import { farAwayM } from '../far-pressure.ts'
import { panelGroup } from '../panels/panel-group.ts'
import reference from '../reference/two-box-scattering.json' with { type: 'json' }

// The figures of steered bass add boxes that each radiate as it does alone. Here two boxes, one behind the other, are solved
// together, a flush trio and a stack of two as one block, to see what that leaves out.

const air = { ...makeAir(), speedOfSoundMps: 343.2, densityKgM3: 1.2 }
const c = air.speedOfSoundMps
const heightM = 0.62
const sub: Cabinet = {
  widthM: 0.56,
  heightM,
  depthM: 0.66,
  drivers: [{ kind: 'piston', radiusM: 0.19, xM: 0, yM: 0 }],
}
type Place = 'free' | 'floor'
const words: Record<Place, string> = { free: 'in free air', floor: 'on a hard floor' }
const places: Record<Place, GroupPlace> = { free: 'free-air', floor: 'hard-floor' }
const anglesDeg = reference.angleDeg
const idPart = (value: number): string => String(value).replace('.', '-')
const decibels = (ratio: number): number => 20 * Math.log10(ratio)

/** Each case is solved once for all its checks. */
function remembered<Value>(make: (...key: [string, number, number]) => Value): typeof make {
  const known = new Map<string, Value>()
  return (...key) => {
    const name = key.join(' ')
    const value = known.get(name) ?? make(...key)
    known.set(name, value)
    return value
  }
}
/** The rear box first; the origin is halfway between their middles, on the floor if there is one. */
const together = remembered(
  (place, spacingM, frequencyHz): CabinetGroup =>
    solveCabinetGroup(
      [-1, 1].map((sign) => ({
        cabinet: sub,
        position: { xM: 0, yM: place === 'floor' ? heightM / 2 : 0, zM: (sub.depthM + sign * spacingM) / 2 },
      })),
      places[place as Place],
      frequencyHz,
      air,
    ),
)
const oneBox = remembered((_, __, frequencyHz): BoxSolution => boxSolution(sub, frequencyHz, air))
/** Flush side by side, the middle one turned; and on top of each other. The origin is below the middle of the block. */
const trio = remembered(
  (_, __, frequencyHz): CabinetGroup =>
    solveCabinetGroup(
      [-1, 0, 1].map((side) => ({
        cabinet: sub,
        position: { xM: side * sub.widthM, yM: heightM / 2, zM: (side === 0 ? -1 : 1) * (sub.depthM / 2) },
        turned: side === 0,
      })),
      'hard-floor',
      frequencyHz,
      air,
    ),
)
const stack = remembered(
  (_, __, frequencyHz): CabinetGroup =>
    solveCabinetGroup(
      [0.5, 1.5].map((heights) => ({
        cabinet: sub,
        position: { xM: 0, yM: heights * heightM, zM: sub.depthM / 2 },
      })),
      'hard-floor',
      frequencyHz,
      air,
    ),
)

const farPlace = (angleDeg: number): Point => ({
  xM: farAwayM * Math.sin((angleDeg * Math.PI) / 180),
  yM: 0,
  zM: farAwayM * Math.cos((angleDeg * Math.PI) / 180),
})
/** A pressure far away re a point source at the origin. */
const rePoint = (pressure: Complex, place: Point, frequencyHz: number): Complex =>
  divide(pressure, monopole(frequencyHz, air).pressureAt(place))
/** What a box of a group sends there re a point where the group stands: on the floor its flow and the image of it count twice. */
function fromGroup(group: CabinetGroup, box: number, at: Point, place: Place): Complex {
  const { re, im } = rePoint(group.pressureAt(box, at), at, group.frequencyHz)
  const share = place === 'floor' ? 0.5 : 1
  return { re: share * re, im: share * im }
}

/** One box alone, its face's middle at (xM, zM) on the floor or in the plane, re a point: what the figures add up. */
function aloneAt(place: Place, { xM, zM }: { xM: number; zM: number }, angleDeg: number, frequencyHz: number): Complex {
  const far = farPlace(angleDeg)
  const at = (yM: number): Complex =>
    boxPressureAt(oneBox('', 0, frequencyHz), { xM: far.xM - xM, yM: far.yM - yM, zM: far.zM - zM })
  const pressure = place === 'free' ? at(0) : multiply(add(at(heightM / 2), at(-heightM / 2)), { re: 0.5, im: 0 })
  return rePoint(pressure, far, frequencyHz)
}

type Case = { place: Place; spacingM: number; frequencyHz: number }
type Boxes = { rear: Complex; front: Complex }

const solvedTogether = ({ place, spacingM, frequencyHz }: Case, angleDeg: number): Boxes => {
  const pair = together(place, spacingM, frequencyHz)
  const far = farPlace(angleDeg)
  return { rear: fromGroup(pair, 0, far, place), front: fromGroup(pair, 1, far, place) }
}
const eachAlone = ({ place, spacingM, frequencyHz }: Case, angleDeg: number): Boxes => {
  const faceZM = (sign: 1 | -1): number => (sub.depthM + sign * spacingM) / 2
  return {
    rear: aloneAt(place, { xM: 0, zM: faceZM(-1) }, angleDeg, frequencyHz),
    front: aloneAt(place, { xM: 0, zM: faceZM(1) }, angleDeg, frequencyHz),
  }
}

/** Set by the textbook: the rear box late and inverted, or the front box late. */
const sets = { 'gradient pair': 'gradient', 'end-fire pair': 'end-fire' } as const
type SetName = keyof typeof sets
function driven(set: SetName, { rear, front }: Boxes, { spacingM, frequencyHz }: Case): number {
  const late = fromPolar(1, (-2 * Math.PI * frequencyHz * spacingM) / c)
  const sum =
    set === 'gradient pair'
      ? add(front, multiply(rear, { re: -late.re, im: -late.im }))
      : add(rear, multiply(front, late))
  return magnitude(sum)
}

const rows = reference.rows.map(({ place, spacingM, frequencyHz, scatter, rear, front }) => ({
  case: { place: place as Place, spacingM, frequencyHz },
  scatter,
  boxes: anglesDeg.map((_, i): Boxes => {
    const [r, f] = [rear[i], front[i]] as [[number, number], [number, number]]
    return { rear: { re: r[0], im: r[1] }, front: { re: f[0], im: f[1] } }
  }),
}))
const otherMethod = { source: 'numpy', place: 'two-box-scattering.py' }
const inputOf = ({ place, spacingM, frequencyHz }: Case): string =>
  `boxes 0.56 × 0.62 × 0.66 m ${words[place]}, fronts ${spacingM} m apart, ${frequencyHz} Hz`
const keyOf = ({ place, spacingM, frequencyHz }: Case): string => `${place}-${idPart(spacingM)}-${frequencyHz}`
/** A solved box errs by 0.1 dB, 1.2 % of its pressure. */
const oneBoxError = 0.012

const eachDriven: Check[] = rows.flatMap(({ case: at, scatter, boxes }) =>
  (['rear', 'front'] as const).map(
    (which): Check => ({
      ...otherMethod,
      id: `two-boxes-${keyOf(at)}-${which}`,
      kind: 'method',
      quantity: `Two boxes solved together, the ${which} one driven: greatest error of the far pressure in 13 directions, re a point`,
      unit: '1',
      input: inputOf(at),
      expected: 0,
      tolerance: oneBoxError + scatter,
      toleranceReason: `a solved box errs by 0.1 dB; ${scatter} is what the other method’s extrapolation changed`,
      computed: () =>
        Math.max(
          ...anglesDeg.map((angleDeg, i) => {
            const [ours, theirs] = [solvedTogether(at, angleDeg)[which], (boxes[i] as Boxes)[which]]
            return Math.hypot(ours.re - theirs.re, ours.im - theirs.im)
          }),
        ),
    }),
  ),
)

const patterns: Check[] = rows
  .filter((row) => row.case.place === 'floor' && row.case.frequencyHz === 63)
  .flatMap(({ case: at, scatter, boxes }) =>
    (Object.keys(sets) as SetName[]).flatMap((set) =>
      anglesDeg.map(
        (angleDeg, i): Check => ({
          ...otherMethod,
          id: `two-boxes-${sets[set]}-${keyOf(at)}-${angleDeg}`,
          kind: 'method',
          quantity: `Real ${set}, both boxes solved together, re a point`,
          unit: '1',
          input: `${inputOf(at)}, ${angleDeg}°`,
          expected: driven(set, boxes[i] as Boxes, at),
          tolerance: 2 * (oneBoxError + scatter),
          toleranceReason: 'each of the two boxes errs by 0.1 dB, and by what the other method’s extrapolation changed',
          computed: () => driven(set, solvedTogether(at, angleDeg), at),
        }),
      ),
    ),
  )

/** What an error of pressure can do to a level, dB. */
const levelErrorDb = (error: number, pressure: number): number => decibels(1 + error / pressure)
const levelReason =
  'each driver on a solved box may err by 0.1 dB, 1.2 % of a point’s pressure, and by the other method’s scatter: so much of what there is'

const costs: Check[] = rows
  // In front of the wider pair at 100 Hz next to nothing is left: it is close to half a wavelength.
  .filter(({ case: { place, spacingM, frequencyHz } }) => place === 'floor' && spacingM * frequencyHz < 110)
  .flatMap(({ case: at, scatter, boxes }) => {
    const [front, behind] = [boxes[0], boxes.at(-1)] as [Boxes, Boxes]
    const error = 2 * (oneBoxError + scatter)
    const pairOf = (both: Boxes): number => driven('gradient pair', both, at)
    return [
      ...(Object.keys(sets) as SetName[]).map(
        (set): Check => ({
          ...otherMethod,
          id: `neighbour-front-${sets[set]}-${keyOf(at)}`,
          kind: 'method',
          quantity: `In front of a real ${set}, both boxes solved together: level re one point`,
          unit: 'dB',
          input: inputOf(at),
          expected: decibels(driven(set, front, at)),
          tolerance: levelErrorDb(error, driven(set, front, at)),
          toleranceReason: levelReason,
          computed: () => decibels(driven(set, solvedTogether(at, 0), at)),
        }),
      ),
      {
        ...otherMethod,
        id: `neighbour-null-${keyOf(at)}`,
        kind: 'method',
        quantity: 'Behind a real gradient pair re its front, both boxes solved together (each alone: silent)',
        unit: 'dB',
        input: inputOf(at),
        expected: decibels(pairOf(behind) / pairOf(front)),
        tolerance: levelErrorDb(error, pairOf(behind)) + levelErrorDb(error, pairOf(front)),
        toleranceReason: levelReason,
        computed: () => decibels(pairOf(solvedTogether(at, 180)) / pairOf(solvedTogether(at, 0))),
      } satisfies Check,
    ]
  })

/** The delay of the rear box that, at one frequency, is silent behind, beyond spacing/c, ms; and the level it takes, dB. */
function trimOf({ rear, front }: Boxes, { spacingM, frequencyHz }: Case): { delayMs: number; levelDb: number } {
  const { re, im } = divide(rear, front)
  const omega = 2 * Math.PI * frequencyHz
  const late = fromPolar(1, (-omega * spacingM) / c)
  // What is left of the phase with the textbook's delay, from −180° to 180°.
  const left = multiply({ re, im }, late)
  return { delayMs: (1000 * Math.atan2(left.im, left.re)) / omega, levelDb: -decibels(Math.hypot(re, im)) }
}

const trims: Check[] = rows
  .filter(({ case: { place } }) => place === 'floor')
  .flatMap(({ case: at, scatter, boxes }): Check[] => {
    const behind = boxes.at(-1) as Boxes
    const expected = trimOf(behind, at)
    const error = oneBoxError + scatter
    const [rear, front] = [magnitude(behind.rear), magnitude(behind.front)]
    const ours = () => trimOf(solvedTogether(at, 180), at)
    return [
      {
        ...otherMethod,
        id: `neighbour-delay-${keyOf(at)}`,
        kind: 'method',
        quantity: 'Delay at which a real gradient pair is quietest behind, less spacing over speed of sound',
        unit: 'ms',
        input: inputOf(at),
        expected: expected.delayMs,
        tolerance: (1000 * (error / rear + error / front)) / (2 * Math.PI * at.frequencyHz),
        toleranceReason:
          'each box errs by 0.1 dB and the other method’s scatter, 1.2 % and more, which may all be phase',
        computed: () => ours().delayMs,
      },
      {
        ...otherMethod,
        id: `neighbour-level-${keyOf(at)}`,
        kind: 'method',
        quantity: 'Level of the rear box at which a real gradient pair is quietest behind',
        unit: 'dB',
        input: inputOf(at),
        expected: expected.levelDb,
        tolerance: levelErrorDb(error, rear) + levelErrorDb(error, front),
        toleranceReason: levelReason,
        computed: () => ours().levelDb,
      },
    ]
  })

const boxNumber = { rear: 0, front: 1 } as const
const exact: Check[] = ([0.76, 1.4] as const).flatMap((spacingM): Check[] => {
  const at: Case = { place: 'floor', spacingM, frequencyHz: 80 }
  const solved = () => together(at.place, at.spacingM, at.frequencyHz)
  return [
    {
      id: `two-boxes-reciprocity-${keyOf(at)}`,
      kind: 'law',
      quantity: 'Mean pressure on the rear driver with the front one driven, over the other way round',
      unit: 'dB',
      source: 'morse-ingard-theoretical-acoustics',
      place: 'reciprocity, an exact relation',
      input: inputOf(at),
      expected: 0,
      tolerance: 0.1,
      toleranceReason: 'the two ways use the mesh differently, so its own error of 0.1 dB shows',
      computed: () => decibels(magnitude(solved().mutualImpedance(1, 0)) / magnitude(solved().mutualImpedance(0, 1))),
    },
    ...(['front', 'rear'] as const).map(
      (which): Check => ({
        id: `two-boxes-energy-${which}-${keyOf(at)}`,
        kind: 'law',
        quantity: `Two boxes, the ${which} one driven: power through the driver over power in the far field`,
        unit: 'dB',
        source: 'morse-vibration-and-sound',
        place: 'conservation of energy, an exact relation',
        input: inputOf(at),
        expected: 0,
        tolerance: 0.1,
        toleranceReason:
          'one comes from the pressure on the driver, the other from the far field; each errs by the mesh',
        computed: () => {
          const driven = boxNumber[which]
          return 10 * Math.log10(solved().mutualImpedance(driven, driven).re / 2 / farPowerW(solved(), driven))
        },
      }),
    ),
  ]
})

/** Power into the half-space over the floor. */
function farPowerW(pair: CabinetGroup, driven: number): number {
  // At 80 Hz a group 2 m long has a far field of few waves: 16 rings are plenty.
  const { nodes, weights } = gaussLegendre(16)
  const distanceM = 1e4
  let sum = 0
  for (const [i, cosine] of nodes.entries()) {
    const sine = Math.sqrt(1 - cosine * cosine)
    for (let m = 0; m < 16; m++) {
      const roundRad = (Math.PI * (m + 0.5)) / 16
      const place = {
        xM: distanceM * sine * Math.cos(roundRad),
        yM: distanceM * sine * Math.sin(roundRad),
        zM: distanceM * cosine,
      }
      sum += ((weights[i] as number) * Math.PI * (magnitude(pair.pressureAt(driven, place)) * distanceM) ** 2) / 16
    }
  }
  return sum / (2 * air.densityKgM3 * c)
}

const farApart: Check = {
  id: 'two-boxes-far-apart',
  kind: 'law',
  quantity: 'Two boxes far apart, the front one driven: together less alone, greatest in 13 directions, re a point',
  unit: '1',
  source: 'morse-ingard-theoretical-acoustics',
  place: 'limit of great distance: what one scatters falls with the distance',
  input: 'boxes 0.56 × 0.62 × 0.66 m in free air, fronts 60 m apart, 80 Hz',
  expected: 0,
  tolerance: 0.005,
  toleranceReason:
    'a rigid body of volume V scatters about k²V (1 + 3/2)/4πr of the wave that meets it (Rayleigh), 0.0017 here with V = 0.23 m³; the two meshes differ a little, each far below 0.1 dB at this frequency',
  computed: () => {
    const at: Case = { place: 'free', spacingM: 60, frequencyHz: 80 }
    return Math.max(
      ...anglesDeg.map((angleDeg) => {
        const [both, alone] = [solvedTogether(at, angleDeg).front, eachAlone(at, angleDeg).front]
        return Math.hypot(both.re - alone.re, both.im - alone.im)
      }),
    )
  },
}

/** Places round a group on a floor, in front of a wall at z = −2.5 m, at least 0.8 m from boxes. */
const roundPlaces: Point[] = [
  { xM: 0, yM: 1.2, zM: 5 },
  { xM: 1.5, yM: 0.3, zM: 1 },
  { xM: -0.9, yM: 1.6, zM: -2.2 },
  { xM: 3, yM: 0, zM: -0.5 },
  { xM: -2, yM: 1.2, zM: 3 },
  { xM: 0, yM: 1.7, zM: 0.2 },
]
const onFloor = (xM: number, zM: number, turned = false, cabinet = sub): GroupBox => ({
  cabinet,
  position: { xM, yM: cabinet.heightM / 2, zM },
  turned,
})
/** Greatest difference of two sounds at the places, re a point there. */
const apart = (a: (place: Point) => Complex, b: (place: Point) => Complex, frequencyHz: number): number =>
  Math.max(
    ...roundPlaces.map((place) => {
      const [p, q] = [a(place), b(place)]
      return Math.hypot(p.re - q.re, p.im - q.im) / magnitude(monopole(frequencyHz, air).pressureAt(place))
    }),
  )
const groupsOfPanels: { name: string; id: string; boxes: GroupBox[]; widestM: number; tolerance: number }[] = [
  {
    name: 'one behind the other, 10 cm apart',
    id: 'close',
    boxes: [onFloor(0, 0), onFloor(0, -0.76)],
    widestM: 0.055,
    tolerance: 0.012,
  },
  {
    name: 'a trio whose middle one is set back by 0.5 m and turned',
    id: 'trio-set-back',
    boxes: [onFloor(-0.56, 0), onFloor(0, -0.5, true), onFloor(0.56, 0)],
    widestM: 0.07,
    tolerance: 0.015,
  },
]
/** The other method on this side of the project: panels of even pressure, solved by least squares. */
const byPanels: Check[] = groupsOfPanels.map(({ name, id, boxes, widestM, tolerance }) => ({
  id: `group-panels-${id}`,
  kind: 'method',
  quantity: 'Boxes solved together by polynomials against panels of even pressure: greatest at six places, re a point',
  unit: '1',
  source: 'morse-ingard-theoretical-acoustics',
  place: 'section 7.1, the integral, which is all that the two share',
  input: `boxes 0.56 × 0.62 × 0.66 m ${words.floor}, ${name}, the second driven, 100 Hz`,
  expected: 0,
  tolerance,
  toleranceReason: 'what is left of the panels, whose error falls with the 4/3 power of their width',
  computed: () => {
    const group = solveCabinetGroup(boxes, 'hard-floor', 100, air)
    // Alike left and right, the one that is driven in the middle.
    const planes = { x: true, y: true, z: false, hardFloor: true }
    return apart((place) => group.pressureAt(1, place), panelGroup(boxes, 1, planes, 100, air, widestM), 100)
  },
}))

/** Exact relations of groups: a hard wall is the mirror image of all boxes; boxes that touch in step are one box. */
const images: Check[] = [
  {
    id: 'group-wall-is-image',
    kind: 'law',
    quantity:
      'Two boxes before a hard wall less four boxes, two of them the images: greatest at six places, re a point',
    unit: '1',
    source: 'kuttruff-room-acoustics',
    place: 'section 4.1, image principle',
    input: `boxes 0.56 × 0.62 × 0.66 m ${words.floor}, fronts 1.35 m apart, wall 0.49 m behind, 100 Hz`,
    expected: 0,
    tolerance: 2e-4,
    toleranceReason: 'the same equations twice as large; the steps of both end at 1e-5 of the right-hand side',
    computed: () => {
      const boxes = [onFloor(0, 0), onFloor(0, -1.35)]
      const wallZM = -2.5
      const mirrored = boxes.map((box) => onFloor(0, 2 * wallZM - box.position.zM, true))
      const wall = solveCabinetGroup(boxes, 'hard-floor', 100, air, { wallZM })
      const four = solveCabinetGroup([...boxes, ...mirrored], 'hard-floor', 100, air)
      return Math.max(
        ...[0, 1].map((box) =>
          apart(
            (place) => wall.pressureAt(box, place),
            (place) => add(four.pressureAt(box, place), four.pressureAt(box + 2, place)),
            100,
          ),
        ),
      )
    },
  },
  {
    id: 'group-halves-are-whole',
    kind: 'method',
    quantity: 'Two touching boxes in step less the one box that they make: greatest at six places, re a point',
    unit: '1',
    source: 'morse-ingard-theoretical-acoustics',
    place: 'a rigid body is its surface',
    input: `two boxes 0.56 × 0.62 × 0.66 m ${words.floor} side by side, and one of 1.12 m with two drivers, 125 Hz`,
    expected: 0,
    tolerance: 0.01,
    toleranceReason:
      'points go by the shortest edge of a box, so that the two meshes differ; each errs by up to 0.005 at this frequency',
    computed: () => {
      const drivers = [-0.28, 0.28].map((xM) => ({ ...(sub.drivers[0] as Cabinet['drivers'][number]), xM }))
      const wide: Cabinet = { ...sub, widthM: 1.12, drivers }
      const halves = solveCabinetGroup([onFloor(-0.28, 0), onFloor(0.28, 0)], 'hard-floor', 125, air)
      const whole = solveCabinetGroup([onFloor(0, 0, false, wide)], 'hard-floor', 125, air)
      return apart(
        (place) => add(halves.pressureAt(0, place), halves.pressureAt(1, place)),
        (place) => multiply(whole.pressureAt(0, place), { re: 2, im: 0 }),
        125,
      )
    },
  },
  {
    id: 'group-floor-is-double-height',
    kind: 'method',
    quantity: 'One box on a floor less a box twice as high in free air: greatest at six places, re a point',
    unit: '1',
    source: 'kuttruff-room-acoustics',
    place: 'section 4.1, image principle',
    input: 'box 0.56 × 0.62 × 0.66 m and box 0.56 × 1.24 × 0.66 m with two drivers, solved by itself, 160 Hz',
    expected: 0,
    tolerance: 0.01,
    toleranceReason:
      'the mesh of a group errs by up to 0.007 at this frequency (see solveCabinetGroup), that of a single box by less',
    computed: () => {
      const drivers = [-0.31, 0.31].map((yM) => ({ ...(sub.drivers[0] as Cabinet['drivers'][number]), yM }))
      const high = boxSolution({ ...sub, heightM: 1.24, drivers }, 160, air)
      const group = solveCabinetGroup([onFloor(0, 0)], 'hard-floor', 160, air)
      return apart(
        (place) => group.pressureAt(0, place),
        (place) => multiply(boxPressureAt(high, place), { re: 2, im: 0 }),
        160,
      )
    },
  },
]

/** The trio flush side by side, about the middle of the block: the outer two together, each of unit flow, and the middle one. */
type TrioParts = { outer: Complex; middle: Complex }
const trioBlocks = reference.blocks.map(({ frequencyHz, scatter, outer, middle }) => ({
  frequencyHz,
  scatter,
  parts: anglesDeg.map((_, i): TrioParts => {
    const [o, m] = [outer[i], middle[i]] as [[number, number], [number, number]]
    return { outer: { re: 2 * o[0], im: 2 * o[1] }, middle: { re: m[0], im: m[1] } }
  }),
}))
function trioAsBlock(angleDeg: number, frequencyHz: number): TrioParts {
  const [far, group] = [farPlace(angleDeg), trio('', 0, frequencyHz)]
  return {
    outer: add(fromGroup(group, 0, far, 'floor'), fromGroup(group, 2, far, 'floor')),
    middle: fromGroup(group, 1, far, 'floor'),
  }
}
/** Set by the textbook: the middle one inverted and late by a box depth. */
const trioDriven = ({ outer, middle }: TrioParts, frequencyHz: number): number =>
  magnitude(add(outer, multiply(middle, fromPolar(-1, (-2 * Math.PI * frequencyHz * sub.depthM) / c))))

const trios: Check[] = trioBlocks.flatMap(({ frequencyHz, scatter, parts }): Check[] => {
  const input = `three boxes 0.56 × 0.62 × 0.66 m flush side by side ${words.floor}, the middle one turned, ${frequencyHz} Hz`
  const [front, behind] = [parts[0], parts.at(-1)] as [TrioParts, TrioParts]
  const pressureOf = (trio: TrioParts): number => trioDriven(trio, frequencyHz)
  const errorDb = (trio: TrioParts): number => levelErrorDb(3 * (oneBoxError + scatter), pressureOf(trio))
  return [
    {
      ...otherMethod,
      id: `neighbour-front-trio-${frequencyHz}`,
      kind: 'method',
      quantity: 'In front of a real trio, solved as one block: level re one point',
      unit: 'dB',
      input,
      expected: decibels(pressureOf(front)),
      tolerance: errorDb(front),
      toleranceReason: levelReason,
      computed: () => decibels(pressureOf(trioAsBlock(0, frequencyHz))),
    },
    {
      ...otherMethod,
      id: `neighbour-rejection-trio-${frequencyHz}`,
      kind: 'method',
      quantity: 'Front over behind of a real trio, solved as one block',
      unit: 'dB',
      input,
      expected: decibels(pressureOf(front) / pressureOf(behind)),
      tolerance: errorDb(front) + errorDb(behind),
      toleranceReason: levelReason,
      computed: () => decibels(pressureOf(trioAsBlock(0, frequencyHz)) / pressureOf(trioAsBlock(180, frequencyHz))),
    },
    ...(['outer', 'middle'] as const).map(
      (part): Check => ({
        ...otherMethod,
        id: `trio-block-${part}-${frequencyHz}`,
        kind: 'method',
        quantity: `Trio as one block, the ${part} driven: greatest error of the far pressure in 13 directions, re a point`,
        unit: '1',
        input,
        expected: 0,
        tolerance: 2 * (oneBoxError + scatter),
        toleranceReason: `a solved box errs by 0.1 dB of its pressure, here that of up to two drivers; ${scatter} is what the other method’s extrapolation changed`,
        computed: () =>
          Math.max(
            ...anglesDeg.map((angleDeg, i) => {
              const [ours, theirs] = [trioAsBlock(angleDeg, frequencyHz)[part], (parts[i] as TrioParts)[part]]
              return Math.hypot(ours.re - theirs.re, ours.im - theirs.im)
            }),
          ),
      }),
    ),
  ]
})

/** A stack of two, the yardstick of steered bass, re a point. */
function stackAsBlock(angleDeg: number, frequencyHz: number): Complex {
  const [far, group] = [farPlace(angleDeg), stack('', 0, frequencyHz)]
  return add(fromGroup(group, 0, far, 'floor'), fromGroup(group, 1, far, 'floor'))
}
const stacks: Check[] = reference.stacks.flatMap(({ frequencyHz, scatter, lower, upper }): Check[] => {
  const input = `two boxes 0.56 × 0.62 × 0.66 m on top of each other ${words.floor}, ${frequencyHz} Hz`
  const theirs = anglesDeg.map((_, i): Complex => {
    const [l, u] = [lower[i], upper[i]] as [[number, number], [number, number]]
    return { re: l[0] + u[0], im: l[1] + u[1] }
  })
  const error = 2 * (oneBoxError + scatter)
  const front = magnitude(theirs[0] as Complex)
  return [
    {
      ...otherMethod,
      id: `neighbour-front-stack-${frequencyHz}`,
      kind: 'method',
      quantity: 'In front of a real stack of two, the yardstick, solved as one block: level re one point',
      unit: 'dB',
      input,
      expected: decibels(front),
      tolerance: levelErrorDb(error, front),
      toleranceReason: levelReason,
      computed: () => decibels(magnitude(stackAsBlock(0, frequencyHz))),
    },
    {
      ...otherMethod,
      id: `stack-block-${frequencyHz}`,
      kind: 'method',
      quantity: 'Stack of two as one block: greatest error of the far pressure in 13 directions, re a point',
      unit: '1',
      input,
      expected: 0,
      tolerance: error,
      toleranceReason: `each of two drivers on a solved block errs by 0.1 dB; ${scatter} is what the other method’s extrapolation changed`,
      computed: () =>
        Math.max(
          ...anglesDeg.map((angleDeg, i) => {
            const [ours, other] = [stackAsBlock(angleDeg, frequencyHz), theirs[i] as Complex]
            return Math.hypot(ours.re - other.re, ours.im - other.im)
          }),
        ),
    },
  ]
})

export const neighbourShadowChecks: CheckGroup = {
  title: 'Steered bass: boxes in each other’s way, solved together',
  checks: [
    ...costs,
    ...trims,
    ...trios,
    ...stacks,
    ...eachDriven,
    ...patterns,
    ...exact,
    farApart,
    ...byPanels,
    ...images,
  ],
}
