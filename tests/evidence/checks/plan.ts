import { firstArrivals } from '../../../src/engine/questions/plan/plan-arrivals.ts'
import { cabinetSources } from '../../../src/engine/questions/plan/plan-boxes.ts'
import { elementLevelDb } from '../../../src/engine/questions/plan/plan-neighbour.ts'
import { planScene } from '../../../src/engine/questions/plan/plan-scene.ts'
import { planMeanSquares } from '../../../src/engine/questions/plan/plan-sound.ts'
import type { PlanQuestion, StandingCabinet } from '../../../src/engine/questions/plan/plan-terms.ts'
import { type Check, type CheckGroup, commonPractice } from '../check.ts'

// A worked example: boxes so small that they are points, 1 m above hard ground, at f = 100.48 Hz and c = 343.2 m/s, so that
// k = 2πf/c = 1.8396 rad/m. A point sends e^{−jkr}/r. A box is set flat 4 m in front of it at a height of 1.6 m, hypot(4, 0.6) = 4.045 m
// away, where it sends 1/4: so all levels are 20 lg(4.045/4) = 0.097 dB higher than with 1/r.
//
//   direct            r = 5 m                    1/5     = 0.2000 at −167.0°
//   off the ground    r = hypot(5, 2) = 5.385 m  1/5.385 = 0.1857 at  152.4°
//   second box        r = 6.5 m                  1/6.5   = 0.1538 at   34.9°
//   and its ground    r = hypot(6.5, 2) = 6.801  1/6.801 = 0.1470 at    3.2°
const tiny = {
  name: 'point',
  widthM: 0.02,
  heightM: 0.02,
  depthM: 0.02,
  ways: [{ name: 'all', drivers: [{ kind: 'piston' as const, radiusM: 0.005, xM: 0, yM: 0 }] }],
}
const point = (id: string, change: Partial<StandingCabinet> = {}): StandingCabinet => ({
  id,
  box: 'point',
  xM: 0,
  zM: 10,
  baseM: 0.99,
  yawRad: 0,
  levelDb: 0,
  delayS: 0,
  polarity: 1,
  ...change,
})
const place = { id: 'p1', xM: 0, zM: 15, earM: 1 }
const questionOf = (cabinets: StandingCabinet[]): PlanQuestion => ({
  rigs: [],
  boxes: { point: tiny },
  surroundings: { kind: 'outdoors', ground: 'hard' },
  cabinets,
  places: [place],
  mainPlace: 'p1',
  programmeDbA: 85,
})

/** Level at the line of the plan at 100.48 Hz, dB re 1. */
function lineDb(cabinets: StandingCabinet[]): number {
  const question = questionOf(cabinets)
  const scene = planScene(question)
  const [squares] = planMeanSquares(question, scene, [place])
  return 10 * Math.log10(squares?.[scene.lines.hz.findIndex((frequencyHz) => frequencyHz > 100)] as number)
}

function directDb(): number {
  const question = questionOf([point('c1')])
  const scene = planScene(question)
  const frequencyHz = scene.lines.hz.find((each) => each > 100) as number
  const [source] = cabinetSources(question, point('c1'))
  if (!source) return Number.NaN
  const { re, im } = firstArrivals(scene, source, frequencyHz, { xM: 0, yM: 1, zM: 15 }).direct
  return 10 * Math.log10(re * re + im * im)
}

const worked = (id: string, quantity: string, input: string, expected: number, computed: () => number): Check => ({
  id,
  kind: 'practice',
  quantity,
  unit: 'dB',
  source: commonPractice,
  input,
  expected,
  tolerance: 0.1,
  toleranceReason:
    'a box of 2 cm begins to radiate up to 1 cm before its middle, 0.2 % of the way, and the sum of four takes that up',
  computed,
})

const second = (change: Partial<StandingCabinet>) => [point('c1'), point('c2', { zM: 8.5, ...change })]

export const planChecks: CheckGroup = {
  title: 'A plan of boxes and places',
  checks: [
    worked('plan-free', 'Free field: 20 lg(1/5) + 0.10', 'one box, 5 m', -13.88, directDb),
    worked(
      'plan-one-wall',
      'One wall: 20 lg |0.2000∠−167.0° + 0.1857∠152.4°| + 0.10 = 20 lg 0.3618 + 0.10',
      'one box over hard ground, 5 m, both 1 m high',
      -8.73,
      () => lineDb([point('c1')]),
    ),
    worked(
      'plan-two-sources',
      'Two sources: 20 lg |all four| + 0.10 = 20 lg 0.1622 + 0.10',
      'a second box 1.5 m behind the first',
      -15.7,
      () => lineDb(second({})),
    ),
    worked(
      'plan-two-sources-steered',
      'Two sources, the second inverted and 3 ms late: its part turns by 180° − 108.5°, 20 lg |sum| + 0.10 = 20 lg 0.4916 + 0.10',
      'the same, delay 3 ms, inverted',
      -6.07,
      () => lineDb(second({ delayS: 0.003, polarity: -1 })),
    ),
    {
      id: 'plan-neighbour-element',
      kind: 'practice',
      quantity: 'Through a wall to a neighbour: 90 − 6 − 20 + 10 lg 50 − 20 lg 40 − 8',
      unit: 'dB',
      source: commonPractice,
      input: '90 dB inside, R 20 dB, 50 m², 40 m',
      expected: 90 - 6 - 20 + 16.99 - 32.04 - 8,
      tolerance: 0.01,
      toleranceReason: 'the logarithms are rounded to 0.01 dB',
      computed: () => elementLevelDb(90, 20, 50, 40),
    },
  ],
}
