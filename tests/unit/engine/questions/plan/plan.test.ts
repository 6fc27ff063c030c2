import { beforeAll, describe, expect, test } from 'vitest'
import { bandLevelsDb, hallLevels, rigField, walledField } from '../../../../../src/acoustics/index.ts'
import { seededRandom } from '../../../../../src/acoustics/signals/seeded-random.ts'
import { planAnswer } from '../../../../../src/engine/questions/plan/plan.ts'
import { cabinetSources, driveIn } from '../../../../../src/engine/questions/plan/plan-boxes.ts'
import { causeOf } from '../../../../../src/engine/questions/plan/plan-dips.ts'
import { elementLevelDb, planNeighbour } from '../../../../../src/engine/questions/plan/plan-neighbour.ts'
import { planScene } from '../../../../../src/engine/questions/plan/plan-scene.ts'
import { bandLevelsOf, planMeanSquares } from '../../../../../src/engine/questions/plan/plan-sound.ts'
import type { PlanQuestion } from '../../../../../src/engine/questions/plan/plan-terms.ts'
import { airOf } from '../../../../../src/engine/scene/air.ts'
import { voicedAt } from '../../../../../src/engine/scene/free-field.ts'
import { demoHallStates } from '../../../../../src/engine/scene/hall-content.ts'
import { hallLevelsAt, hallRig } from '../../../../../src/engine/scene/hall-rig.ts'
import { hallOf } from '../../../../../src/engine/scene/hall-scene.ts'
import { readerHallDesign } from '../../../../../src/engine/scene/reader-hall.ts'
import { solvedModel } from '../../../../../src/engine/scene/solved-gear.ts'
import { heardBands } from '../../../../../src/engine/scene/third-octaves.ts'
import { grangeQuestion, loadGear, standing, topOverSub } from './plan-questions.ts'

beforeAll(loadGear)

const air = airOf()
const pointOf = ({ xM, zM, earM }: PlanQuestion['places'][0]) => ({ xM, yM: earM, zM })

describe('a plan in a hall', () => {
  test('is hallLevels, line by line where all early sound is in step and by third octave above, with turned, late, inverted and quieter boxes', () => {
    const question: PlanQuestion = {
      ...grangeQuestion,
      cabinets: [
        standing('c1', 'top', { yawRad: 0.3, levelDb: -2 }),
        standing('c2', 'sub'),
        standing('c3', 'sub', { xM: 2, zM: 4, delayS: 0.004, polarity: -1, levelDb: -3, yawRad: Math.PI }),
      ],
    }
    const scene = planScene(question)
    const squares = planMeanSquares(question, scene, question.places)
    const sources = question.cabinets.flatMap((cabinet) =>
      cabinetSources(question, cabinet).map((source) => ({ ...source, ...driveIn(cabinet) })),
    )
    const levels = hallLevels(sources, hallOf((demoHallStates[1] as (typeof demoHallStates)[0]).design), air)
    for (const [index, place] of question.places.entries()) {
      const { hz, fromOf } = scene.lines
      const outside = hz.map((frequencyHz) => levels.meanSquareAt(pointOf(place), frequencyHz, 'band'))
      // No early image comes more than 17 m later: below 121 Hz that is within six wavelengths.
      for (const [line, square] of outside.entries())
        if ((hz[line] as number) < 120) expect((squares[index]?.[line] as number) / square).toBeCloseTo(1, 6)
      const wanted = bandLevelsOf(scene.lines, outside)
      // 0.05 dB: what adds by energy is worked out at every third line (early-lines.test.ts).
      for (const [band, level] of bandLevelsOf(scene.lines, squares[index] as Float64Array).entries())
        expect(Math.abs(level - (wanted[band] as number)), `${hz[fromOf[band] as number]} Hz`).toBeLessThan(0.05)
    }
  })

  test('with the demo rig where it stands has the levels of the hall’s figure', () => {
    const [place] = grangeQuestion.places
    const scene = planScene(grangeQuestion)
    const [squares] = planMeanSquares(grangeQuestion, scene, grangeQuestion.places)
    const own = bandLevelsOf(scene.lines, squares as Float64Array)
    const figure = hallLevelsAt(hallRig(topOverSub, (demoHallStates[1] as (typeof demoHallStates)[0]).design, air), {
      xM: 2.5,
      zM: 5,
    })
    expect(place).toMatchObject({ xM: 0, zM: 8 })
    // 0.05 dB: the figure works every line out, the plan every third of what adds by energy.
    for (const [band, level] of own.entries())
      expect(Math.abs(level - (figure.total[band] as number))).toBeLessThan(
        (heardBands[band]?.nominalHz ?? 0) <= 100 ? 1e-6 : 0.05,
      )
  })

  test('of the reader’s own with the demo hall’s finishes is the demo hall', () => {
    const wood = 'wood-on-studs'
    const surfaces = {
      wallLeft: wood,
      wallRight: wood,
      floor: 'wood-floor-over-air',
      ceiling: wood,
      wallBehind: wood,
      wallOpposite: wood,
    }
    const size = { lengthM: 18, widthM: 11, heightM: 4.6 }
    expect(readerHallDesign({ ...size, surfaces, people: 150 })).toEqual(demoHallStates[1]?.design)
    expect(readerHallDesign({ ...size, surfaces, people: 0 })).toEqual(demoHallStates[0]?.design)
    expect(() => readerHallDesign({ ...size, surfaces, people: 500 })).toThrow(RangeError)
    expect(() => readerHallDesign({ ...size, surfaces: { ...surfaces, floor: 'lava' }, people: 0 })).toThrow(/lava/)
  })
})

describe('a plan outdoors', () => {
  test('on hard ground is walledField, and the grass takes treble of the reflection alone', () => {
    const question: PlanQuestion = { ...grangeQuestion, surroundings: { kind: 'outdoors', ground: 'hard' } }
    const scene = planScene(question)
    const [squares] = planMeanSquares(question, scene, question.places)
    const ground = { point: { xM: 0, yM: 0, zM: 0 }, normal: { xM: 0, yM: 1, zM: 0 }, absorption: () => 0 }
    const field = walledField(rigField(topOverSub, air, solvedModel, voicedAt), [ground])
    const at = { xM: 2.5, yM: 1.6, zM: 5 }
    const outside = bandLevelsDb((frequencyHz) => field.transferAt(at, frequencyHz), heardBands, 24)
    const own = bandLevelsOf(scene.lines, squares as Float64Array)
    for (const [band, level] of own.entries()) expect(level).toBeCloseTo(outside[band] as number, 6)
    const grass = planAnswer({ ...question, surroundings: { kind: 'outdoors', ground: 'grass' } })
    expect(grass.joiningHz).toBeNull()
  })
})

describe('the answer', () => {
  test('puts the programme’s level at the main place, and tells the others against it', () => {
    const { places, liftDb } = planAnswer(grangeQuestion)
    const [main, tables] = places
    expect(main?.aWeightedDb).toBeCloseTo(95, 9)
    expect(main?.reMain).toEqual({ bassDb: 0, middleDb: 0, trebleDb: 0, aWeightedDb: 0 })
    expect(tables?.reMain.trebleDb).toBeLessThan((tables?.reMain.bassDb as number) - 3)
    expect((tables?.bassDb as number) - (main?.bassDb as number)).toBeCloseTo(tables?.reMain.bassDb as number, 9)
    expect(main?.exposure).toEqual({ levelDbA: 95, hours: 8 / 2 ** (10 / 3) })
    const louder = planAnswer({ ...grangeQuestion, programmeDbA: 98 })
    expect(louder.liftDb - liftDb).toBeCloseTo(3, 9)
    expect(louder.places[1]?.reMain.bassDb).toBeCloseTo(tables?.reMain.bassDb as number, 9)
  })

  test('is finite for random plans, and the same once more', () => {
    const random = seededRandom(11)
    const within = (min: number, max: number) => min + random() * (max - min)
    for (let round = 0; round < 6; round++) {
      const cabinets = Array.from({ length: 1 + Math.floor(random() * 3) }, (_, i) =>
        standing(`c${i}`, random() > 0.5 ? 'top' : 'sub', {
          xM: within(-4.5, 4.5),
          zM: within(1, 5),
          yawRad: within(-3, 3),
          levelDb: within(-20, 5),
          delayS: within(0, 0.02),
          polarity: random() > 0.5 ? 1 : -1,
        }),
      )
      const places = [0, 1].map((i) => ({ id: `p${i}`, xM: within(-5, 5), zM: within(6.5, 17), earM: within(1, 2) }))
      const question: PlanQuestion = {
        ...grangeQuestion,
        surroundings: round % 2 ? grangeQuestion.surroundings : { kind: 'outdoors', ground: 'grass' },
        cabinets,
        places,
        mainPlace: 'p0',
        programmeDbA: within(60, 105),
      }
      const answer = planAnswer(question)
      expect(JSON.stringify(answer)).toBe(JSON.stringify(planAnswer(structuredClone(question))))
      for (const place of answer.places) {
        expect(place.levelsDb.every(Number.isFinite)).toBe(true)
        expect(Object.values(place.reMain).every(Number.isFinite)).toBe(true)
        expect(place.dips.every(({ depthDb, frequencyHz }) => depthDb >= 6 && frequencyHz > 0)).toBe(true)
      }
    }
  })

  test('refuses a plan without a box, a place in a box, and a main place that is none', () => {
    expect(() => planAnswer({ ...grangeQuestion, cabinets: [] })).toThrow(RangeError)
    expect(() => planAnswer({ ...grangeQuestion, mainPlace: 'p9' })).toThrow(RangeError)
    const inBox = [{ id: 'p1', xM: -2.5, zM: 2.9, earM: 0.3 }]
    expect(() => planAnswer({ ...grangeQuestion, places: inBox })).toThrow(/inside the box c2/)
    expect(() => planAnswer({ ...grangeQuestion, programmeDbA: 130 })).toThrow(RangeError)
  })
})

describe('a dip', () => {
  const open: PlanQuestion = { ...grangeQuestion, surroundings: { kind: 'outdoors', ground: 'grass' } }

  test('between two boxes half a wave apart is theirs', () => {
    // 343 m/s: at 57.2 Hz half a wave is 3 m. The place is 3 m farther from one of them, in line with both.
    const pair = [standing('c1', 'sub', { xM: 0, zM: 3 }), standing('c2', 'sub', { xM: 0, zM: 0, levelDb: 4 })]
    const question = {
      ...open,
      surroundings: { kind: 'outdoors', ground: 'hard' } as const,
      cabinets: pair,
      places: [{ id: 'p1', xM: 0, zM: 12, earM: 1.2 }],
    }
    const [place] = planAnswer({ ...question, mainPlace: 'p1' }).places
    expect(place?.dips[0]?.frequencyHz).toBeGreaterThan(52)
    expect(place?.dips[0]?.frequencyHz).toBeLessThan(62)
    expect(place?.dips[0]?.cause.kind).toBe('box')
  })

  test('of the wall behind, a quarter of a wave away, is the wall’s', () => {
    const brick = 'bare-brick'
    const surfaces = {
      wallLeft: brick,
      wallRight: brick,
      floor: brick,
      ceiling: brick,
      wallBehind: brick,
      wallOpposite: brick,
    }
    // So large that nothing but floor and wall behind is near.
    const design = readerHallDesign({ lengthM: 80, widthM: 50, heightM: 18, surfaces, people: 0 })
    const question: PlanQuestion = {
      ...grangeQuestion,
      surroundings: { kind: 'hall', design },
      cabinets: [standing('c2', 'sub', { xM: 0, zM: 1.7 })],
    }
    const scene = planScene(question)
    const hardest = { id: 'p1', xM: 0, zM: 6, earM: 0.4 }
    // The face is 1.7 m from the wall: half a wave there and back at about 50 Hz.
    expect(causeOf(question, scene, hardest, 50)).toEqual({ kind: 'surface', surface: 'wallBehind' })
  })
})

describe('the neighbour', () => {
  const neighbour = {
    side: 'wallBehind',
    distanceM: 40,
    wall: 'timber-wall',
    roof: 'steel-roof',
    door: 'solid-door',
    doorM2: 2,
  } as const

  test('an element by hand: 90 dB, R 20 dB, 50 m², 40 m', () => {
    // 90 − 6 − 20 + 10 lg 50 − 20 lg 40 − 8 = 90 − 6 − 20 + 16.99 − 32.04 − 8
    expect(elementLevelDb(90, 20, 50, 40)).toBeCloseTo(40.95, 2)
  })

  test('twice as far is 6 dB less, an open door more, brick less', () => {
    const base = planNeighbour({ ...grangeQuestion, ...neighbour })
    expect(base.cWeightedDb).toBeGreaterThan(base.aWeightedDb + 10)
    const far = planNeighbour({ ...grangeQuestion, ...neighbour, distanceM: 80 })
    expect(base.cWeightedDb - far.cWeightedDb).toBeCloseTo(20 * Math.log10(2), 6)
    expect(planNeighbour({ ...grangeQuestion, ...neighbour, door: 'open-door' }).aWeightedDb).toBeGreaterThan(
      base.aWeightedDb,
    )
    expect(
      planNeighbour({ ...grangeQuestion, ...neighbour, wall: 'brick-wall', roof: 'lined-roof' }).cWeightedDb,
    ).toBeLessThan(base.cWeightedDb)
    expect(planNeighbour({ ...grangeQuestion, ...neighbour, doorM2: 0 }).ways.door).toBeNull()
  })

  test('is refused outdoors, too near, and behind a wall that nobody knows', () => {
    const ask = (change: object) => () => planNeighbour({ ...grangeQuestion, ...neighbour, ...change })
    expect(ask({ surroundings: { kind: 'outdoors', ground: 'hard' } })).toThrow(/outdoors/)
    expect(ask({ distanceM: 5 })).toThrow(RangeError)
    expect(ask({ wall: 'paper' })).toThrow(/paper/)
  })
})
