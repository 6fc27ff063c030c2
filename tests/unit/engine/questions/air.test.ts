import { readFileSync } from 'node:fs'
import { describe, expect, test } from 'vitest'
import { absorptionDbPerM, makeAir, type Rig } from '../../../../src/acoustics/index.ts'
import { blindResponses } from '../../../../src/engine/questions/blind/blind.ts'
import { boxPicture, boxResponses } from '../../../../src/engine/questions/box/box-and-wave.ts'
import { boxEstimateFromHz, boxLevels, shadowBegin } from '../../../../src/engine/questions/box/box-pattern.ts'
import { demoBoxPattern } from '../../../../src/engine/questions/box/demo-box-pattern.ts'
import { columnAnswer } from '../../../../src/engine/questions/column/column.ts'
import { columnHearing, columnResponses } from '../../../../src/engine/questions/column/column-hearing.ts'
import { columnPicture } from '../../../../src/engine/questions/column/column-picture.ts'
import { hallMap } from '../../../../src/engine/questions/hall/hall-map.ts'
import { hallAnswer } from '../../../../src/engine/questions/hall/hall-parts.ts'
import { hornAnswer, hornResponses } from '../../../../src/engine/questions/horn/horn.ts'
import { ownBoxBand, ownBoxKnown } from '../../../../src/engine/questions/own-box/own-box.ts'
import { wrapAnswer } from '../../../../src/engine/questions/own-box/own-box-terms.ts'
import { steerAnswer, steerPicture } from '../../../../src/engine/questions/steer/steer.ts'
import { steerResponses } from '../../../../src/engine/questions/steer/steer-responses.ts'
import {
  steerSearchPlan,
  steerSearchStep,
  steerSuggestion,
} from '../../../../src/engine/questions/steer/steer-search.ts'
import type { SteerQuestion } from '../../../../src/engine/questions/steer/steer-terms.ts'
import {
  steerTogether,
  steerTogetherPlan,
  steerTogetherStep,
} from '../../../../src/engine/questions/steer/steer-together.ts'
import { walkAnswer, walkLoudness } from '../../../../src/engine/questions/walk/walk.ts'
import { planPicture } from '../../../../src/engine/questions/walk/walk-picture.ts'
import { walkResponses } from '../../../../src/engine/questions/walk/walk-responses.ts'
import { wallAnswer } from '../../../../src/engine/questions/wall/wall.ts'
import { wallPicture } from '../../../../src/engine/questions/wall/wall-picture.ts'
import { wallResponses } from '../../../../src/engine/questions/wall/wall-responses.ts'
import type { WallScene } from '../../../../src/engine/questions/wall/wall-terms.ts'
import { type AirState, usualAir } from '../../../../src/engine/scene/air.ts'
import { hallResponses } from '../../../../src/engine/scene/hall-responses.ts'
import { evenHall } from '../../../../src/engine/scene/hall-terms.ts'

const warm: AirState = { temperatureC: 30, humidityPct: 50 }
const dry: AirState = { temperatureC: 20, humidityPct: 15 }
const airAt = ({ temperatureC, humidityPct }: AirState) => makeAir({ temperatureC, relativeHumidityPct: humidityPct })
/** √(303.15/293.15): what every wavelength grows by from 20 to 30 °C. */
const ratio = airAt(warm).speedOfSoundMps / airAt(usualAir).speedOfSoundMps

/** One box with one cone and no crossover: then the wavelength alone decides what it does. */
const plain = (scale = 1): Rig => ({
  name: 'plain',
  cabinets: [
    {
      name: 'box',
      widthM: 0.5 * scale,
      heightM: 0.6 * scale,
      depthM: 0.45 * scale,
      frontCentre: { xM: 0, yM: 1.6, zM: 0 },
      ways: [{ name: 'cone', drivers: [{ kind: 'piston', radiusM: 0.15 * scale, xM: 0, yM: 0 }] }],
    },
  ],
})
const sub: Rig = {
  name: 'sub',
  cabinets: [
    {
      name: 'box',
      widthM: 0.55,
      heightM: 0.6,
      depthM: 0.6,
      frontCentre: { xM: 0, yM: 0.3, zM: 0 },
      ways: [{ name: 'cone', drivers: [{ kind: 'piston', radiusM: 0.2, xM: 0, yM: 0 }] }],
    },
  ],
}
const hall = evenHall({ lengthM: 12, widthM: 9, heightM: 4 }, 0.3)
const walk = { rig: plain(), place: { angleRad: 2.5, distanceM: 3 }, datum: 'front-face' } as const
const sound = { sampleRateHz: 16000, length: 4096 }
const grid = { xMinM: -4, xMaxM: 4, zMinM: -4, zMaxM: 4, columns: 7, rows: 7, heightM: 1.6 }
const wallScene: WallScene = { rig: plain(), surroundings: { kind: 'wall', gapM: 1, finish: 'hard-walls' } }
const wall = { ...wallScene, frontM: 4, fromWallM: 0.4, frequencyHz: 70 }
const inHall = { rig: plain(), hall, place: { xM: 1, zM: -2 } }
const column = { count: 12, spacingM: 0.08, heightM: 1.8, tiltRad: 0.05 }
const columnGrid = { zMinM: -2, zMaxM: 3, across: 6, topM: 3, bottomM: 0, down: 5 }
const shape = { heightPerWidth: 1.2, depthPerWidth: 0.9, coneRadiusPerWidth: 0.3 }
const box = { widthM: 0.5, heightM: 0.6, depthM: 0.45, ways: plain().cabinets[0]?.ways ?? [] }
const steer: SteerQuestion = {
  rig: sub,
  point: false,
  set: { arrangement: 'pair', count: 2, spacingM: 1.5, delayS: 0.0043, inverted: true, turned: false, levelDb: 0 },
  surroundings: { kind: 'outdoors', floor: 'hard' },
  front: { xM: 0, zM: 5 },
  behind: { xM: 0, zM: -5 },
  band: { fromHz: 50, toHz: 63 },
  frequencyHz: 63,
  error: 'none',
}
const steerInHall: SteerQuestion = {
  ...steer,
  surroundings: { kind: 'hall', design: hall },
  behind: { xM: 0, zM: -2.6 },
}

const searched = (air: AirState | undefined) => {
  const plan = steerSearchPlan({ ...steer, ...(air && { air }) })
  const candidates = plan.slice(0, 2).map(steerSearchStep)
  return {
    sets: plan.map(({ set }) => set),
    suggestion: steerSuggestion({ ...steer, ...(air && { air }), candidates }),
  }
}
const together = (air: AirState | undefined) => {
  const plan = steerTogetherPlan({ ...steer, ...(air && { air }) })
  return plan.slice(0, 1).map(steerTogetherStep)
}

/** Everything that can be asked, by name. */
const questions: Record<string, (air?: AirState) => unknown> = {
  walkAnswer: (air) => walkAnswer({ ...walk, air }),
  'walkAnswer before a wall': (air) =>
    walkAnswer({ ...walk, place: { angleRad: 2.5, distanceM: 1.2 }, surroundings: { kind: 'wall', gapM: 1 }, air }),
  'walkAnswer in a hall': (air) => walkAnswer({ ...walk, surroundings: { kind: 'hall', design: hall }, air }),
  walkLoudness: (air) => walkLoudness({ ...walk, air }),
  'planPicture of waves': (air) => planPicture({ rig: plain(), grid, frequencyHz: 500, kind: 'waves', air }),
  'planPicture of levels': (air) => planPicture({ rig: plain(), grid, frequencyHz: 500, kind: 'levels', air }),
  'planPicture in a hall': (air) =>
    planPicture({
      rig: plain(),
      grid,
      frequencyHz: 500,
      kind: 'levels',
      surroundings: { kind: 'hall', design: hall },
      air,
    }),
  walkResponses: (air) => walkResponses({ ...walk, ...sound, air }),
  blindResponses: (air) => blindResponses({ ...walk, ...sound, stage: 'bass-alone', air }),
  hornAnswer: (air) => hornAnswer({ mouthM: 0.3, coverageDeg: 90, frequencyHz: 1000, air }),
  hornResponses: (air) => hornResponses({ mouthM: 0.3, coverageDeg: 90, ...sound, air }),
  boxPicture: (air) => boxPicture({ shape, widthM: 0.5, frequencyHz: 400, halfM: 3, cells: 7, model: 'ball', air }),
  boxResponses: (air) =>
    boxResponses({ pattern: demoBoxPattern, widthM: 0.5, bandHz: undefined, sampleRateHz: 16000, air }),
  ownBoxBand: (air) => ownBoxBand({ box, nominalHz: 250, solved: false, air }),
  ownBoxKnown: (air) => ownBoxKnown({ box, air }),
  columnAnswer: (air) => columnAnswer({ column, frequencyHz: 500, air }),
  columnPicture: (air) =>
    columnPicture({ column, frequencyHz: 500, view: 'side', kind: 'waves', grid: columnGrid, air }),
  columnHearing: (air) => columnHearing({ column, place: 'behind', air }),
  columnResponses: (air) => columnResponses({ column, place: 'behind', ...sound, air }),
  wallAnswer: (air) => wallAnswer({ ...wall, air }),
  wallPicture: (air) => wallPicture({ ...wallScene, frequencyHz: 70, air }),
  wallResponses: (air) => wallResponses({ ...wall, compare: 'wall', sampleRateHz: 44100, length: 4096, air }),
  hallAnswer: (air) => hallAnswer({ ...inHall, bandHz: 4000, air }),
  hallMap: (air) => hallMap({ ...inHall, frequencyHz: 40, source: 'corner', air }),
  hallResponses: (air) => hallResponses({ ...inHall, compare: 'outdoors', sampleRateHz: 8000, air }),
  steerAnswer: (air) => steerAnswer({ ...steer, air }),
  steerPicture: (air) => steerPicture({ ...steer, show: 'set', air }),
  'steerPicture in a hall': (air) => steerPicture({ ...steerInHall, show: 'set', air }),
  steerResponses: (air) => steerResponses({ ...steer, compare: 'behind', sampleRateHz: 8000, length: 1024, air }),
  'a search': searched,
  'boxes solved together': together,
}

describe.each(Object.entries(questions))('%s', (_, ask) => {
  test('hangs on the air, and no air’s answer is kept for another', () => {
    const usual = ask(usualAir)
    const warmer = ask(warm)
    expect(warmer).not.toEqual(usual)
    expect(ask()).toEqual(usual)
    expect(ask(warm)).toEqual(warmer)
  })
})

describe('from 20 to 30 °C', () => {
  const at = <Question extends object, Answer>(ask: (question: Question & { air?: AirState }) => Answer) => ({
    usual: (question: Question) => ask({ ...question, air: usualAir }),
    warm: (question: Question) => ask({ ...question, air: warm }),
  })

  test('a wall’s dips, rises and first dip go up as the speed of sound does', () => {
    const [usual, warmer] = [at(wallAnswer).usual(wall), at(wallAnswer).warm(wall)]
    for (const [i, dipHz] of usual.ruleDipsHz.slice(0, 3).entries()) {
      expect((warmer.ruleDipsHz[i] as number) / dipHz).toBeCloseTo(ratio, 12)
    }
    // The rig has no crossover, so that the computed dip follows, too; 1e-4: the search and the interpolation between knots.
    expect(Math.abs((warmer.dip?.frequencyHz ?? 0) / (usual.dip?.frequencyHz ?? 1) / ratio - 1)).toBeLessThan(1e-4)
    expect(usual.dipShiftHz).toBeCloseTo((usual.dip?.frequencyHz ?? 0) * (ratio - 1), 9)
    // The hottest air of the site.
    expect(wallAnswer({ ...wall, air: { temperatureC: 45, humidityPct: 0 } }).dipShiftHz).toBeGreaterThan(0)
  })

  test('the sound over the wall comes sooner', () => {
    const lateSamples = (air: AirState) => {
      const { here, front } = wallResponses({
        ...wall,
        compare: 'wall',
        sampleRateHz: 48000,
        length: 8192,
        rig: plain(0.2),
        air,
      })
      const peak = (samples: Float32Array) =>
        samples.reduce((best, value, i) => (Math.abs(value) > Math.abs(samples[best] as number) ? i : best), 0)
      return peak(here.map((value, i) => value - (front[i] as number))) - peak(front)
    }
    const [usual, warmer] = [lateSamples(usualAir), lateSamples(warm)]
    // 1 m and the box's depth of 9 cm, twice, and the way round the box: half a sample of rounding on either side.
    expect(usual).toBeGreaterThan((48000 * 2.18) / 343.2 - 1)
    expect(Math.abs(usual / ratio - warmer)).toBeLessThanOrEqual(1)
  })

  test('waves round a rig are those of the same wavelength', () => {
    const picture = (frequencyHz: number, air: AirState) => {
      const found = planPicture({ rig: plain(), grid, frequencyHz, kind: 'waves', air })
      return found.kind === 'waves' ? found.re : new Float32Array()
    }
    const [usual, warmer] = [picture(500, usualAir), picture(500 * ratio, warm)]
    for (const [i, value] of usual.entries()) expect(warmer[i]).toBeCloseTo(value, 5)
  })

  test('a box, a horn and a column do at a larger size what they did', () => {
    const bands = at(ownBoxBand)
    const larger = {
      ...box,
      widthM: 0.5 * ratio,
      heightM: 0.6 * ratio,
      depthM: 0.45 * ratio,
      ways: plain(ratio).cabinets[0]?.ways ?? [],
    }
    const [small, large] = [
      bands.usual({ box, nominalHz: 500, solved: false }),
      bands.warm({ box: larger, nominalHz: 500, solved: false }),
    ]
    expect(large.rearDb).toBeCloseTo(small.rearDb, 9)
    expect(large.directivityIndexDb).toBeCloseTo(small.directivityIndexDb, 6)
    const first = ownBoxKnown({ box, air: usualAir }).bands
    expect(wrapAnswer(first, 0.5, warm).kaIsOneHz / wrapAnswer(first, 0.5).kaIsOneHz).toBeCloseTo(ratio, 12)

    const [usualHorn, warmHorn] = [usualAir, warm].map((air) =>
      hornAnswer({ mouthM: 0.3, coverageDeg: 90, frequencyHz: 1000, air }),
    ) as [ReturnType<typeof hornAnswer>, ReturnType<typeof hornAnswer>]
    expect(warmHorn.letsGoHz / usualHorn.letsGoHz).toBeCloseTo(ratio, 12)
    expect(warmHorn.ruleHz / usualHorn.ruleHz).toBeCloseTo(ratio, 12)
    expect(warmHorn.bassMouthM / usualHorn.bassMouthM).toBeCloseTo(ratio, 12)
    const wider = hornAnswer({ mouthM: 0.3 * ratio, coverageDeg: 90, frequencyHz: 1000, air: warm })
    for (const [i, level] of usualHorn.besideDb.entries()) expect(wider.besideDb[i]).toBeCloseTo(level, 6)

    const columns = at(columnAnswer)
    expect(
      columns.warm({ column, frequencyHz: 500 }).wavelengthM / columns.usual({ column, frequencyHz: 500 }).wavelengthM,
    ).toBeCloseTo(ratio, 12)
  })

  test('the shadow of a box begins higher, by the table and by both rules', () => {
    const [usual, warmer] = [shadowBegin(demoBoxPattern, 0.5, usualAir), shadowBegin(demoBoxPattern, 0.5, warm)]
    for (const rule of ['computedHz', 'widthRuleHz', 'kaRuleHz'] as const) {
      expect(warmer[rule] / usual[rule]).toBeCloseTo(ratio, 9)
    }
    expect(boxLevels(demoBoxPattern, 0.5, 400 * ratio, warm).rearDb).toBeCloseTo(
      boxLevels(demoBoxPattern, 0.5, 400).rearDb,
      9,
    )
    expect(boxEstimateFromHz(demoBoxPattern, 0.5, warm) / boxEstimateFromHz(demoBoxPattern, 0.5)).toBeCloseTo(ratio, 12)
  })

  test('steered points want their spacing larger for the same delay', () => {
    const points = { ...steer, point: true }
    const polar = (spacingM: number, air: AirState) =>
      steerAnswer({ ...points, set: { ...points.set, spacingM }, air }).polar.setDb
    const [usual, warmer] = [polar(1.5, usualAir), polar(1.5 * ratio, warm)]
    // Points on the ground seen from far away: the wavelength and the delay decide.
    for (const [i, level] of usual.entries()) {
      if (level > -60) expect(warmer[i], `${2 * i}°`).toBeCloseTo(level, 2)
    }
  })
})

test('a hall in dry air decays in the treble as ISO 9613-1 and Sabine’s and Eyring’s volume of air say', () => {
  const decayS = (air: AirState) => hallAnswer({ ...inHall, bandHz: 8000, air }).decayS
  // T = 24 ln 10 V / c (−S ln(1 − ᾱ) + 4mV), Kuttruff, Room Acoustics, section 5.3; m = a/(10 lg e), a of ISO 9613-1.
  const expectedS = (state: AirState) => {
    const [volumeM3, surfaceM2] = [12 * 9 * 4, 2 * (12 * 9 + 12 * 4 + 9 * 4)]
    const air = airAt(state)
    const perM = absorptionDbPerM(10 ** 3.9, air) / (10 * Math.log10(Math.E))
    const areaM2 = -surfaceM2 * Math.log(1 - 0.3) + 4 * perM * volumeM3
    return (24 * Math.LN10 * volumeM3) / (air.speedOfSoundMps * areaM2)
  }
  for (const air of [usualAir, warm, dry]) expect(decayS(air)).toBeCloseTo(expectedS(air), 6)
  expect(decayS(dry)).toBeLessThan(0.9 * decayS(usualAir))
})

test('the boxes that are solved together are solved in the question’s air', () => {
  const [step] = steerTogetherPlan({ ...steer, air: warm })
  if (!step) throw new Error('no step')
  expect(step.air).toEqual(warm)
  expect(steerTogetherStep(step)).not.toEqual(steerTogetherStep({ ...step, air: usualAir }))
  expect(steerTogether({ ...steer, point: true, steps: [] })).toEqual({ kind: 'points' })
})

test('the demo rigs’ questions take the air, too', () => {
  const rig = JSON.parse(readFileSync('content/gear/top-over-sub.json', 'utf8')) as Rig
  const [usual, warmer] = [usualAir, warm].map((air) => walkAnswer({ ...walk, rig, air })) as [
    ReturnType<typeof walkAnswer>,
    ReturnType<typeof walkAnswer>,
  ]
  // The hard ball is trusted to kR = 5.
  expect(warmer.estimateFromHz / usual.estimateFromHz).toBeCloseTo(ratio, 12)
})
