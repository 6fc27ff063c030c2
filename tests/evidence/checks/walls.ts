import type { Wall } from '../../../src/acoustics/index.ts'
import { makeAir, monopole, type PlacedSource, type Point, pressureFrom } from '../../../src/acoustics/index.ts'
import { type Check, type CheckGroup, commonPractice } from '../check.ts'
import reference from '../reference/walls-and-pairs.json' with { type: 'json' }

const air = makeAir()
const c = 343.2

const pointSource = (position: Point): PlacedSource => ({
  radiation: (frequencyHz) => monopole(frequencyHz, air),
  position,
  yawRad: 0,
  gain: 1,
  delayS: 0,
  polarity: 1,
})
const origin: Point = { xM: 0, yM: 0, zM: 0 }
const wall = (axis: 'xM' | 'yM' | 'zM', absorption = 0): Wall => ({
  point: origin,
  normal: { ...origin, [axis]: 1 },
  absorption: () => absorption,
})
const axes = ['xM', 'yM', 'zM'] as const
const levelOf = ({ re, im }: { re: number; im: number }): number => 20 * Math.log10(Math.hypot(re, im))

/**
 * Power near rigid walls re free space: the part of the pressure at the source that is in phase with its velocity, read 1 mm to
 * either side of it.
 */
function powerRatioNear(distances: Point, walls: Wall[], frequencyHz: number): number {
  const source = [pointSource(distances)]
  const inPhase = (among: Wall[]): number =>
    [-1e-3, 1e-3].reduce((sum, asideM) => {
      const beside = { ...distances, xM: distances.xM + asideM }
      return sum + pressureFrom(source, among, beside, frequencyHz, air).re
    }, 0)
  return inPhase(walls) / inPhase([])
}

const powerChecks: Check[] = reference.powerNearWalls.equalDistances.flatMap(
  ({ dOverLambda, oneWall_dB, edgeEqual_dB, cornerEqual_dB }) =>
    [oneWall_dB, edgeEqual_dB, cornerEqual_dB].map((expected, index): Check => {
      const distanceM = (dOverLambda * c) / 100
      const walls = axes.slice(0, index + 1).map((axis) => wall(axis))
      return {
        id: `walls-power-${index + 1}-at-${String(dOverLambda).replace('.', '-')}`,
        kind: 'outside',
        quantity: `Power of a point source near ${['one rigid wall', 'two', 'three'][index]}, re free space`,
        unit: 'dB',
        source: 'waterhouse-1958-walls',
        place: 'power output near one, two and three walls',
        input: `${dOverLambda} wavelengths from each, 100 Hz`,
        expected,
        tolerance: 0.001,
        toleranceReason:
          'the table is rounded to 0.001 dB; reading 1 mm beside the source moves it by less than 0.0001 dB',
        computed: () => 10 * Math.log10(powerRatioNear({ xM: distanceM, yM: distanceM, zM: distanceM }, walls, 100)),
      }
    }),
)

const unequalChecks: Check[] = reference.powerNearWalls.unequalExamples.map((example) => {
  const k = (2 * Math.PI * 100) / c
  const distances = { xM: example.kx / k, yM: example.ky / k, zM: (example.kz ?? 0) / k }
  const walls = (example.kz === undefined ? axes.slice(0, 2) : axes).map((axis) => wall(axis))
  return {
    id: `walls-power-unequal-${[example.kx, example.ky, example.kz ?? 0].join('-')}`,
    kind: 'outside',
    quantity: `Power near ${walls.length} rigid walls at different distances, re free space`,
    unit: '1',
    source: 'waterhouse-1958-walls',
    place: 'power output near two and three walls',
    input: `k times distance ${[example.kx, example.ky, example.kz].filter((value) => value !== undefined).join(', ')}`,
    expected: (example.edge ?? example.corner) as number,
    tolerance: 1e-5,
    toleranceReason: 'the table is rounded to 1e-6; reading 1 mm beside the source moves the ratio by less than 1e-5',
    computed: () => powerRatioNear(distances, walls, 100),
  }
})

/** Level of source and image re the source alone, straight out from a wall; far away both spread alike. */
function behindWallDb(pathDifferenceM: number, frequencyHz: number, absorption: number): number {
  const source = [pointSource({ xM: 0, yM: 0, zM: pathDifferenceM / 2 })]
  const far = { xM: 0, yM: 0, zM: 1e5 }
  return (
    levelOf(pressureFrom(source, [wall('zM', absorption)], far, frequencyHz, air)) -
    levelOf(pressureFrom(source, [], far, frequencyHz, air))
  )
}

const pathChecks: Check[] = [
  { rows: reference.imageInterference.levelVersusPathDifference, factor: 1 },
  { rows: reference.imageInterference.levelVersusPathDifferenceOf07, factor: 0.7 },
].flatMap(({ rows, factor }) =>
  rows
    .filter(({ level_dB }) => level_dB !== null)
    .map(
      ({ pathDifferenceOverLambda, level_dB }): Check => ({
        id: `walls-path-${factor === 1 ? 'rigid' : 'soft'}-${pathDifferenceOverLambda.toFixed(3).replace('.', '-')}`,
        kind: 'outside',
        quantity: 'Source and its image in a wall, far in front, re the source alone',
        unit: 'dB',
        source: 'kuttruff-room-acoustics',
        place: 'image source; sum of two arrivals',
        input: `path difference ${pathDifferenceOverLambda.toFixed(3)} wavelengths, image ${factor} times as strong`,
        expected: level_dB as number,
        tolerance: 0.002,
        toleranceReason:
          'the table is rounded to 0.001 dB; at 100 km the image is a hundred-thousandth weaker than the table has it',
        // |R| = √(1 − α), so a factor of 0.7 is an absorption of 0.51
        computed: () => behindWallDb((pathDifferenceOverLambda * c) / 100 + 1e-9, 100, 1 - factor ** 2),
      }),
    ),
)

/** Steps of the search for a dip or a rise, Hz. */
const searchStepHz = 0.01

/** The lowest frequency at which source and image, seen from far in front, are at an extreme: +1 a rise, −1 a dip; in small steps. */
function firstExtremeHz(distanceM: number, sign: 1 | -1, lowestHz: number, highestHz: number): number {
  const at = (frequencyHz: number) => sign * behindWallDb(2 * distanceM, frequencyHz, 0)
  let [before, here] = [at(lowestHz), at(lowestHz + searchStepHz)]
  for (let step = 2; lowestHz + step * searchStepHz <= highestHz; step++) {
    const after = at(lowestHz + step * searchStepHz)
    if (here > before && here >= after) return lowestHz + (step - 1) * searchStepHz
    ;[before, here] = [here, after]
  }
  return Number.NaN
}

const wallRows: Check[] = reference.imageInterference.wallBehindSource.flatMap(
  ({ d, firstCancellation, firstReinforcement }): Check[] => {
    const shared = {
      unit: 'Hz',
      source: 'kuttruff-room-acoustics',
      place: 'image source: path difference twice the distance',
      input: `source ${d} m in front of a wall`,
      tolerance: searchStepHz,
      toleranceReason: 'the search goes by hundredths of a hertz',
    }
    const key = String(d).replace('.', '-')
    return [
      {
        ...shared,
        id: `walls-first-dip-${key}`,
        kind: 'outside',
        about: ['dip' as const],
        quantity: 'First dip far in front, searched in the field of source and image',
        expected: firstCancellation,
        computed: () => firstExtremeHz(d, -1, 0.5 * firstCancellation, 1.5 * firstCancellation),
      },
      {
        ...shared,
        id: `walls-first-rise-${key}`,
        kind: 'outside',
        quantity: 'First rise far in front, searched in the field of source and image',
        expected: firstReinforcement,
        computed: () => firstExtremeHz(d, 1, 0.75 * firstReinforcement, 1.25 * firstReinforcement),
      },
    ]
  },
)

const sixteenFeet: Check[] = (
  [
    ['dip', -1, 35],
    ['rise', 1, 70],
  ] as const
).map(([word, sign, expected]) => ({
  id: `walls-16-ft-${word}`,
  kind: 'practice',
  quantity: `First ${word} for 4.88 m (16 ft) there and back, searched in the field of source and image`,
  unit: 'Hz',
  source: commonPractice,
  place: 'rule of thumb for a speaker in front of a wall, 16 ft there and back',
  input: 'source 2.44 m in front of a wall, 20 °C',
  expected,
  tolerance: 0.031 * expected,
  toleranceReason: 'the rule is told in whole feet: half a foot in 16 is 3.1 %',
  computed: () => firstExtremeHz(2.44, sign, 0.7 * expected, 1.3 * expected),
}))

/** Absorption as the standing wave in front of a wall tells it: s = p_max/p_min, α = 4s/(s + 1)². */
function absorptionFromStandingWave(absorption: number): number {
  const source = [pointSource({ xM: 0, yM: 0, zM: 5000 })]
  let highest = 0
  let lowest = Number.POSITIVE_INFINITY
  for (let step = 0; step <= 4000; step++) {
    const { re, im } = pressureFrom(source, [wall('zM', absorption)], { ...origin, zM: step * 5e-4 }, 200, air)
    highest = Math.max(highest, Math.hypot(re, im))
    lowest = Math.min(lowest, Math.hypot(re, im))
  }
  const ratio = highest / lowest
  return (4 * ratio) / (ratio + 1) ** 2
}

const standingWaveChecks: Check[] = [0.05, 0.2, 0.5, 0.9].map((absorption) => ({
  id: `walls-standing-wave-${String(absorption).replace('.', '-')}`,
  kind: 'outside',
  quantity: 'Absorption coefficient from the standing-wave ratio in front of a wall',
  unit: '1',
  source: 'iso-10534-1',
  place: 'absorption from the standing-wave ratio',
  input: `wall with α = ${absorption}, 200 Hz, source 5 km away`,
  expected: absorption,
  tolerance: 0.001,
  toleranceReason: 'highest and lowest pressure are read every 0.5 mm, and 2 m of 5 km spread the wave by 0.04 %',
  computed: () => absorptionFromStandingWave(absorption),
}))

export const wallChecks: CheckGroup = {
  title: 'Walls, edges and corners',
  checks: [
    {
      id: 'walls-pressure-doubles',
      kind: 'law',
      quantity: 'Level on a rigid wall re free space',
      unit: 'dB',
      source: 'kinsler-frey-fundamentals',
      place: 'reflection from a rigid boundary',
      input: 'source 2 m from the wall, listener on it, 1 m aside',
      expected: 6.0206,
      tolerance: 1e-4,
      toleranceReason: 'twice the pressure is 6.02059991 dB',
      computed: () => {
        const source = [pointSource({ xM: 0, yM: 0, zM: 2 })]
        const listener = { xM: 1, yM: 0, zM: 0 }
        return (
          levelOf(pressureFrom(source, [wall('zM')], listener, 80, air)) -
          levelOf(pressureFrom(source, [], listener, 80, air))
        )
      },
    },
    {
      id: 'walls-corner-loading',
      kind: 'practice',
      quantity: 'Level far away of a sub on the floor in a corner re free space',
      unit: 'dB',
      source: commonPractice,
      place: 'rule of thumb: 6 dB for each of floor, wall and side wall',
      input: 'point source 5 cm from three rigid walls, 50 Hz, listener 100 m away',
      expected: 18,
      tolerance: 0.5,
      toleranceReason: 'the rule is told in whole dB',
      computed: () => {
        const source = [pointSource({ xM: 0.05, yM: 0.05, zM: 0.05 })]
        const listener = { xM: 57.7, yM: 57.7, zM: 57.7 }
        const walls = axes.map((axis) => wall(axis))
        return (
          levelOf(pressureFrom(source, walls, listener, 50, air)) - levelOf(pressureFrom(source, [], listener, 50, air))
        )
      },
    },
    ...sixteenFeet,
    ...pathChecks,
    ...wallRows,
    ...powerChecks,
    ...unequalChecks,
    ...standingWaveChecks,
  ],
}
