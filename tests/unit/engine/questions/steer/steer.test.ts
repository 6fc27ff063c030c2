import { readFileSync } from 'node:fs'
import { join } from 'node:path'
import { describe, expect, test } from 'vitest'
import { interferenceLanesM } from '../../../../../src/acoustics/field/interference-lanes.ts'
import { turnedTrio } from '../../../../../src/acoustics/field/turned-trio.ts'
import {
  endFireLine,
  gradientPair,
  hallField,
  magnitude,
  makeAir,
  type PlacedSource,
  type Point,
  pressureFrom,
  type Rig,
  type Wall,
} from '../../../../../src/acoustics/index.ts'
import { steerAnswer, steerPicture } from '../../../../../src/engine/questions/steer/steer.ts'
import { boxOf, sizeOf } from '../../../../../src/engine/questions/steer/steer-boxes.ts'
import {
  polarStepDeg,
  type SteerQuestion,
  type SteerSet,
  steerErrorSize,
  steerLinesHz,
} from '../../../../../src/engine/questions/steer/steer-terms.ts'
import { textbookSet } from '../../../../../src/engine/questions/steer/textbook-set.ts'
import { hallOf } from '../../../../../src/engine/scene/hall-scene.ts'
import { evenHall } from '../../../../../src/engine/scene/hall-terms.ts'
import { loadSolvedRig, solvedModel } from '../../../../../src/engine/scene/solved-gear.ts'

const air = makeAir()
const c = air.speedOfSoundMps
const rig: Rig = JSON.parse(
  readFileSync(join(import.meta.dirname, '../../../../../content/gear/top-over-sub.json'), 'utf8'),
)
await loadSolvedRig(rig)

const band = { fromHz: 40, toHz: 100 }
const pair: SteerSet = {
  arrangement: 'pair',
  count: 2,
  spacingM: 1.35,
  delayS: 1.35 / c,
  inverted: true,
  turned: false,
  levelDb: 0,
}
const points: SteerQuestion = {
  rig,
  point: true,
  set: pair,
  surroundings: { kind: 'outdoors', floor: 'hard' },
  front: { xM: 0, zM: 4 },
  behind: { xM: 0.5, zM: -3 },
  band,
  frequencyHz: 63,
  error: 'none',
}
const boxes: SteerQuestion = { ...points, point: false }
const dB = (square: number) => 10 * Math.log10(square)

/** A point on the floor with its drive: e^{−jkr}/r, doubled by the hard floor, which is left out of every ratio. */
type Driven = { xM: number; zM: number; gain: number; delayS: number }
const spots = ({ xM, zM }: { xM: number; zM: number }) => [-1, -0.5, 0, 0.5, 1].map((x) => ({ xM: xM + x, zM }))

/** Energy average over a row at ear height, summed plainly; `mirrorsZM` are hard walls. */
function rowSquare(driven: Driven[], place: { xM: number; zM: number }, hz: number, wallZM?: number): number {
  let sum = 0
  for (const spot of spots(place)) {
    let [re, im] = [0, 0]
    const images = wallZM === undefined ? driven : [...driven, ...driven.map((d) => ({ ...d, zM: 2 * wallZM - d.zM }))]
    for (const { xM, zM, gain, delayS } of images) {
      const r = Math.hypot(spot.xM - xM, 1.6, spot.zM - zM)
      const phase = -2 * Math.PI * hz * (r / c + delayS)
      re += (gain / r) * Math.cos(phase)
      im += (gain / r) * Math.sin(phase)
    }
    sum += (re * re + im * im) / 5
  }
  return sum
}
const inverseSquares = (place: { xM: number; zM: number }) =>
  spots(place).reduce((sum, { xM, zM }) => sum + 1 / (xM * xM + 1.6 * 1.6 + zM * zM) / 5, 0)

const drivenPair: Driven[] = [
  { xM: 0, zM: 0, gain: 1, delayS: 0 },
  { xM: 0, zM: -1.35, gain: -1, delayS: 1.35 / c },
]
const stack: Driven[] = [{ xM: 0, zM: 0, gain: 2, delayS: 0 }]

describe('points outdoors', () => {
  test('the curves are the plain sums, re the stack in front', () => {
    const { curves } = steerAnswer(points)
    for (const [line, hz] of steerLinesHz.entries()) {
      const reference = rowSquare(stack, points.front, hz)
      expect(curves.frontDb[line]).toBeCloseTo(dB(rowSquare(drivenPair, points.front, hz) / reference), 6)
      expect(curves.behindDb[line]).toBeCloseTo(dB(rowSquare(drivenPair, points.behind, hz) / reference), 6)
      expect(curves.stackedFrontDb[line]).toBeCloseTo(0, 9)
      expect(curves.stackedBehindDb[line]).toBeCloseTo(dB(rowSquare(stack, points.behind, hz) / reference), 6)
    }
  })

  test('the merits are the energy averages of the band, distance taken out of the rejection', () => {
    const { merits } = steerAnswer(points)
    const lines = steerLinesHz.filter((hz) => hz >= 40 && hz <= 100)
    const mean = (driven: Driven[], place: { xM: number; zM: number }) =>
      lines.reduce((sum, hz) => sum + rowSquare(driven, place, hz) / rowSquare(stack, points.front, hz), 0)
    const distanceDb = dB(inverseSquares(points.front) / inverseSquares(points.behind))
    const [front, behind] = [mean(drivenPair, points.front), mean(drivenPair, points.behind)]
    expect(merits.rejectionDb).toBeCloseTo(dB(front / behind) - distanceDb, 6)
    expect(merits.frontLossDb).toBeCloseTo(dB(mean(stack, points.front) / front), 6)
    expect(merits.behindCutDb).toBeCloseTo(dB(mean(stack, points.behind) / behind), 6)
  })

  test('the stack rejects nothing by itself: boxes side by side, close together, come out near 0 dB', () => {
    const set = { ...pair, arrangement: 'row', spacingM: 0.3, delayS: 0, inverted: false } as const
    const { merits } = steerAnswer({ ...points, set, behind: { xM: 0, zM: -4 } })
    expect(Math.abs(merits.rejectionDb)).toBeLessThan(1e-9)
    expect(Math.abs(merits.frontLossDb)).toBeLessThan(0.15)
  })

  test('the polar of the pair is 2 |sin(kd (1 + cos θ)/2)|, re two in one place', () => {
    const { polar } = steerAnswer(points)
    for (const [i, level] of polar.setDb.entries()) {
      const angle = (i * polarStepDeg * Math.PI) / 180
      const kd = (2 * Math.PI * 63 * 1.35) / c
      const pattern = Math.abs(Math.sin((kd * (1 + Math.cos(angle))) / 2))
      // At 50 km the nearer of two boxes 1.35 m apart is louder by 2.7e-5.
      expect(Math.abs(10 ** (level / 20) - pattern)).toBeLessThan(3e-5)
    }
    expect(Math.max(...polar.stackedDb.map(Math.abs))).toBeLessThan(1e-6)
  })

  test('front loss far away is −20 lg |sin kd| and the end-fire line loses nothing there', () => {
    const kd = (2 * Math.PI * 63 * 1.35) / c
    // Far away is 50 km, where boxes 1.35 m apart still differ by 0.0001 dB in distance.
    expect(steerAnswer(points).polar.setDb[0]).toBeCloseTo(20 * Math.log10(Math.abs(Math.sin(kd))), 3)
    const line = textbookSet('end-fire', 4, band, sizeOf(points), c)
    expect(steerAnswer({ ...points, set: line, behind: { xM: 0, zM: -7 } }).polar.setDb[0]).toBeCloseTo(0, 3)
  })

  test.each(['late', 'quiet', 'polarity'] as const)('what is left with one box %s is the plain sum', (error) => {
    const wrong = {
      late: { delayS: 1.35 / c + steerErrorSize.lateS },
      quiet: { gain: -(10 ** (-steerErrorSize.quietDb / 20)) },
      polarity: { gain: 1 },
    }[error]
    const faulty = [drivenPair[0], { ...drivenPair[1], ...wrong }] as Driven[]
    const { curves, merits, errors } = steerAnswer({ ...points, error })
    for (const [line, hz] of steerLinesHz.entries()) {
      const square = rowSquare(faulty, points.behind, hz) / rowSquare(stack, points.front, hz)
      expect(curves.behindDb[line]).toBeCloseTo(dB(square), 6)
    }
    expect(merits).toEqual(steerAnswer(points).merits)
    expect(errors[error]?.rejectionDb).not.toBeCloseTo(merits.rejectionDb, 2)
  })

  test('a wall half a metre behind: images of all boxes, the place moved before it', () => {
    const question = { ...points, error: 'wall' } as const
    const wallZM = -1.35 - steerErrorSize.wallGapM
    const behind = { ...points.behind, zM: wallZM + 0.05 }
    const { curves, errors } = steerAnswer(question)
    for (const [line, hz] of steerLinesHz.entries()) {
      const reference = rowSquare(stack, points.front, hz)
      expect(curves.frontDb[line]).toBeCloseTo(dB(rowSquare(drivenPair, points.front, hz, wallZM) / reference), 6)
      expect(curves.behindDb[line]).toBeCloseTo(dB(rowSquare(drivenPair, behind, hz, wallZM) / reference), 6)
      expect(curves.stackedBehindDb[line]).toBeCloseTo(dB(rowSquare(stack, behind, hz, wallZM) / reference), 6)
    }
    expect(errors.wall?.rejectionDb).toBeLessThan(3)
  })

  test('a wall that is there already cannot be put there as an error', () => {
    const walled = { ...points, surroundings: { kind: 'wall', gapM: 3, floor: 'hard' } } as const
    const answer = steerAnswer({ ...walled, error: 'wall' })
    expect(answer.errors.wall).toBeNull()
    expect(answer.curves).toEqual(steerAnswer(walled).curves)
  })
})

const { way, widthM, heightM, depthM } = boxOf(rig)
const radiation = (hz: number) => solvedModel({ widthM, heightM, depthM, drivers: way.drivers }, hz, air)
const floor: Wall = { point: { xM: 0, yM: 0, zM: 0 }, normal: { xM: 0, yM: 1, zM: 0 }, absorption: () => 0 }
const atFloor = (sources: PlacedSource[]) =>
  sources.map((source) => ({ ...source, position: { ...source.position, yM: heightM / 2 } }))
const square = (sources: PlacedSource[], place: { xM: number; zM: number }, hz: number) =>
  spots(place).reduce(
    (sum, spot) => sum + magnitude(pressureFrom(sources, [floor], { ...spot, yM: 1.6 }, hz, air)) ** 2 / 5,
    0,
  )

describe('real boxes outdoors, against the acoustics module’s own arrangements', () => {
  const origin: Point = { xM: 0, yM: 0, zM: 0 }
  const cases: [string, SteerSet, PlacedSource[], { xM: number; zM: number }][] = [
    [
      'gradient pair',
      pair,
      gradientPair({ spacingM: 1.35, centre: { ...origin, zM: -0.675 }, yawRad: 0, radiation }, air),
      { xM: 0, zM: -4 },
    ],
    [
      'trio',
      textbookSet('trio', 3, band, sizeOf(boxes), c),
      turnedTrio({ spacingM: 0.65, pitchM: widthM, centre: origin, yawRad: 0, radiation }, air),
      { xM: 0, zM: -3 },
    ],
    [
      'end-fire line',
      { ...pair, arrangement: 'end-fire', count: 3, spacingM: 1, delayS: 1 / c, inverted: false },
      endFireLine({ count: 3, spacingM: 1, centre: { ...origin, zM: -1 }, yawRad: 0, radiation }, air),
      { xM: 0, zM: -5 },
    ],
  ]
  test.each(cases)('%s', (_, set, sources, behind) => {
    const { curves } = steerAnswer({ ...boxes, set, behind })
    const placed = atFloor(sources)
    for (const line of [0, 20, 32, 48, 72]) {
      const hz = steerLinesHz[line] as number
      const difference = dB(square(placed, boxes.front, hz) / square(placed, behind, hz))
      expect((curves.frontDb[line] as number) - (curves.behindDb[line] as number)).toBeCloseTo(difference, 6)
    }
  })

  test('cost: floor from side to side and from the foremost front to the rearmost back', () => {
    const { cost } = steerAnswer(boxes)
    expect(cost).toMatchObject({ boxes: 2, widthM: 0.56 })
    expect(cost.depthM).toBeCloseTo(1.35 + 0.66, 12)
    expect(cost.floorM2).toBeCloseTo(0.56 * 2.01, 12)
  })

  test('third octaves hold eight lines each and agree with the curves', () => {
    const { bands, curves } = steerAnswer(boxes)
    expect(bands.map(({ bandHz }) => bandHz)).toEqual([31.5, 40, 50, 63, 80, 100, 125, 160])
    const lines = steerLinesHz.flatMap((hz, i) => (hz > 56.2 && hz < 70.8 ? [i] : []))
    const mean = (levels: number[]) => dB(lines.reduce((sum, i) => sum + 10 ** ((levels[i] as number) / 10), 0))
    expect(bands[3]?.frontLossDb).toBeCloseTo(mean(curves.stackedFrontDb) - mean(curves.frontDb), 6)
  })
})

describe('lanes', () => {
  const set = { ...pair, arrangement: 'left-right', spacingM: 8, delayS: 0, inverted: false } as const
  const question = { ...points, set, front: { xM: 0, zM: 5 }, frequencyHz: 80 }

  test('lie near the hyperbolas of two points, symmetric without delay', () => {
    const { lanes } = steerAnswer(question)
    // Ears are above the points, so the way to the line that joins them is longer than 5 m.
    const exact = interferenceLanesM({ spacingM: 8, distanceM: Math.hypot(5, 1.6), frequencyHz: 80 }, air)
    const between = (offsets: number[] = []) => offsets.filter((x) => Math.abs(x) < 4)
    expect(between(lanes?.weakM).length).toBe(between(exact.weakM).length)
    for (const [i, x] of between(lanes?.weakM).entries()) {
      expect(Math.abs(x - (between(exact.weakM)[i] as number))).toBeLessThan(0.2)
    }
    expect(lanes?.strongM).toContain(0)
    expect(between(lanes?.weakM).reduce((sum, x) => sum + x, 0)).toBeCloseTo(0, 6)
  })

  test('move toward the side that plays later', () => {
    const late = steerAnswer({ ...question, set: { ...set, delayS: 0.002 } }).lanes
    const exact = interferenceLanesM(
      { spacingM: 8, distanceM: Math.hypot(5, 1.6), frequencyHz: 80, delayS: 0.002 },
      air,
    )
    const middle = (offsets: number[]) => offsets.reduce((best, x) => (Math.abs(x) < Math.abs(best) ? x : best))
    expect(middle(late?.strongM ?? [])).toBeGreaterThan(0.2)
    expect(Math.abs(middle(late?.strongM ?? []) - middle(exact.strongM))).toBeLessThan(0.2)
  })

  test('only of rows and of left and right', () => {
    expect(steerAnswer(points).lanes).toBeNull()
  })
})

describe('the map', () => {
  test('is the plain sum re the stack straight ahead at the same distance', () => {
    const picture = steerPicture({ ...points, show: 'set' })
    expect([picture.columns, picture.rows]).toEqual([41, 46])
    for (const [column, row] of [
      [0, 0],
      [20, 45],
      [33, 12],
      [20, 24],
    ] as const) {
      const xM = picture.xMinM + ((picture.xMaxM - picture.xMinM) * column) / 40
      const zM = picture.zMinM + ((picture.zMaxM - picture.zMinM) * row) / 45
      let [re, im] = [0, 0]
      for (const driven of drivenPair) {
        const r = Math.hypot(xM - driven.xM, 1.6, zM - driven.zM)
        const phase = -2 * Math.PI * 63 * (r / c + driven.delayS)
        re += (driven.gain / r) * Math.cos(phase)
        im += (driven.gain / r) * Math.sin(phase)
      }
      const ahead = 2 / Math.hypot(1.6, Math.hypot(xM, zM))
      // The reference is read off a table in steps of 8 cm.
      expect(picture.levelDb[row * 41 + column]).toBeCloseTo(dB((re * re + im * im) / (ahead * ahead)), 2)
    }
  })

  test('leaves out what stands in a box and ends at a wall', () => {
    const open = steerPicture({ ...boxes, show: 'set' })
    expect(open.inside.reduce((sum, value) => sum + value, 0)).toBeGreaterThan(0)
    expect(open.levelDb.every(Number.isFinite)).toBe(true)
    const walled = steerPicture({ ...boxes, surroundings: { kind: 'wall', gapM: 2, floor: 'hard' }, show: 'stacked' })
    expect(walled.zMinM).toBeCloseTo(-1.35 - 0.66 - 2, 9)
  })
})

describe('in a hall', () => {
  const design = evenHall({ lengthM: 12, widthM: 8, heightM: 4 }, 0.3)
  const question: SteerQuestion = {
    ...boxes,
    surroundings: { kind: 'hall', design },
    front: { xM: 1, zM: 4 },
    behind: { xM: 1, zM: -2.6 },
  }

  test('the curves are the hall’s sums of images, the stack’s too; delays are quick once the boxes are known', () => {
    const { curves, errors } = steerAnswer(question)
    expect(errors.wall).toBeNull()
    const placed = (y: number, z: number, rest: Partial<PlacedSource>): PlacedSource => ({
      radiation,
      position: { xM: -2.5, yM: y, zM: 3 + z },
      yawRad: 0,
      gain: 1,
      delayS: 0,
      polarity: 1,
      ...rest,
    })
    const set = [placed(0.31, 0, {}), placed(0.31, -1.35, { delayS: 1.35 / c, polarity: -1 })]
    const stacked = [placed(0.31, 0, {}), placed(0.93, 0, {})]
    const hall = hallOf(design)
    for (const line of [12, 40, 60]) {
      const hz = steerLinesHz[line] as number
      const at = (sources: PlacedSource[], place: { xM: number; zM: number }) => {
        const field = hallField(sources, hall, hz, air)
        return spots(place).reduce(
          (sum, { xM, zM }) => sum + magnitude(field({ xM: xM - 2.5, yM: 1.6, zM: zM + 3 })) ** 2 / 5,
          0,
        )
      }
      const levels = [
        dB(at(set, question.front) / at(stacked, question.front)),
        dB(at(set, question.behind) / at(stacked, question.behind)),
      ]
      expect((curves.frontDb[line] as number) - (curves.stackedFrontDb[line] as number)).toBeCloseTo(
        levels[0] as number,
        6,
      )
      expect((curves.behindDb[line] as number) - (curves.stackedBehindDb[line] as number)).toBeCloseTo(
        levels[1] as number,
        6,
      )
    }
  }, 60_000)

  test('an open hall, whose walls and ceiling take everything, is outdoors', () => {
    const walls = { wallLeft: [1], wallRight: [1], ceiling: [1], wallBehind: [1], wallOpposite: [1] }
    const open = { ...design, surfaces: { ...walls, floor: [0] } }
    const points = { ...question, point: true, band: { fromHz: 50, toHz: 80 } }
    const inside = steerAnswer({ ...points, surroundings: { kind: 'hall', design: open } }).merits
    const outdoors = steerAnswer({ ...points, surroundings: { kind: 'outdoors', floor: 'hard' } }).merits
    expect(Math.abs(inside.rejectionDb - outdoors.rejectionDb)).toBeLessThan(1)
    expect(Math.abs(inside.frontLossDb - outdoors.frontLossDb)).toBeLessThan(1)
  }, 60_000)

  test('the map is the hall', () => {
    const picture = steerPicture({ ...question, show: 'set' })
    expect(picture.xMinM).toBeCloseTo(-4 + 2.5 + 0.05, 9)
    expect(picture.zMaxM).toBeCloseTo(9 - 0.05, 9)
    expect(picture.levelDb.every(Number.isFinite)).toBe(true)
  })
})

describe('bad questions', () => {
  test.each([
    [{ set: { ...pair, spacingM: 0 } }, /spacingM is out of range; allowed is from 0.3 to 12/],
    [{ set: { ...pair, spacingM: 0.5 } }, /boxes would stand in each other; allowed is from 0.7 m/],
    [{ set: { ...pair, delayS: 0.5 } }, /delayS is out of range/],
    [{ set: { ...pair, count: 8 } }, /count is 8; allowed is a whole number from 2 to 2/],
    [{ behind: { xM: 0, zM: -1.6 } }, /place behind is in-a-box/],
    [{ behind: { xM: 0, zM: 3 } }, /behind.zM is -3/],
    [{ front: { xM: 0, zM: Number.NaN } }, /front.zM is NaN/],
    [{ band: { fromHz: 90, toHz: 40 } }, /band is 90 to 40 Hz/],
    [{ frequencyHz: 5 }, /frequencyHz is 5/],
    [{ error: 'fire' as never }, /error is fire/],
  ] as [Partial<SteerQuestion>, RegExp][])('%o', (change, message) => {
    expect(() => steerAnswer({ ...boxes, ...change })).toThrow(message)
    expect(() => steerPicture({ ...boxes, ...change, show: 'set' })).toThrow(RangeError)
  })
})
