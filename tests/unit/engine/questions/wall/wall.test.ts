import { readFileSync } from 'node:fs'
import { join } from 'node:path'
import { describe, expect, test } from 'vitest'
import {
  amplitudeLevelDb,
  type Complex,
  magnitude,
  makeAir,
  octaveTable,
  type Point,
  pinkNoise,
  type Rig,
  rigField,
  thirdOctaveBands,
  thirdOctaveLevelsDb,
  type Wall,
  walledField,
} from '../../../../../src/acoustics/index.ts'
import { inverseRealDft, realDft } from '../../../../../src/acoustics/signals/dft.ts'
import { type WallQuestion, wallAnswer } from '../../../../../src/engine/questions/wall/wall.ts'
import { wallFacts } from '../../../../../src/engine/questions/wall/wall-facts.ts'
import { guessedWall } from '../../../../../src/engine/questions/wall/wall-guess.ts'
import { wallPicture } from '../../../../../src/engine/questions/wall/wall-picture.ts'
import { type WallResponseQuestion, wallResponses } from '../../../../../src/engine/questions/wall/wall-responses.ts'
import { gapOfFaceM, narrowBands } from '../../../../../src/engine/questions/wall/wall-terms.ts'
import { finishOf, wallFinishNames } from '../../../../../src/engine/scene/finishes.ts'
import { rigDepthM, sideWallXM } from '../../../../../src/engine/scene/rig-outline.ts'
import { loadSolvedRig, solvedModel } from '../../../../../src/engine/scene/solved-gear.ts'
import type { AtWall } from '../../../../../src/engine/scene/surroundings.ts'

const air = makeAir()
const gear = (name: string): Rig =>
  JSON.parse(readFileSync(join(import.meta.dirname, '../../../../../content/gear', `${name}.json`), 'utf8'))
const topOverSub = gear('top-over-sub')
const compact = gear('compact-two-way')
for (const rig of [topOverSub, compact]) await loadSolvedRig(rig)

/** A question with what is round the rig beside the rest, so that a test may change one of either. */
type Flat = Omit<WallQuestion, 'surroundings'> & Required<Omit<AtWall, 'kind' | 'floor'>> & { floor: boolean }
const asked = <Case extends Flat>({ gapM, sideGapM, floor, finish, ...rest }: Case) => ({
  ...rest,
  surroundings: { kind: 'wall' as const, gapM, sideGapM, finish, ...(floor && { floor: 'concrete' as const }) },
})
const answerOf = (question: Flat) => wallAnswer(asked(question))
const pictureOf = (question: Flat) => wallPicture(asked(question))
const responsesOf = (question: Flat & Omit<WallResponseQuestion, keyof WallQuestion>) => wallResponses(asked(question))

const usual: Flat = {
  rig: topOverSub,
  gapM: 1.2,
  sideGapM: null,
  floor: false,
  finish: 'hard-walls',
  frontM: 4,
  fromWallM: 0.3,
  frequencyHz: 70,
}
const lessonCase = { ...usual, gapM: gapOfFaceM(1.7, topOverSub), frequencyHz: 100 }

/** The same scene without the engine: no interpolation, every image of every wall at the very frequency. */
function directly({ rig, gapM, sideGapM, floor, finish }: Flat) {
  const free = rigField(rig, air, solvedModel, { xM: 0, yM: 1.6, zM: 4 })
  const absorptionOf = (name: string) => {
    const { frequenciesHz, absorption } = finishOf(name)
    return octaveTable(frequenciesHz, absorption)
  }
  const others: Wall[] = []
  if (floor) {
    others.push({
      point: { xM: 0, yM: 0, zM: 0 },
      normal: { xM: 0, yM: 1, zM: 0 },
      absorption: absorptionOf('concrete-floor'),
    })
  }
  if (typeof sideGapM === 'number') {
    others.push({
      point: { xM: sideWallXM(rig, sideGapM), yM: 0, zM: 0 },
      normal: { xM: -1, yM: 0, zM: 0 },
      absorption: absorptionOf(finish),
    })
  }
  const wallZM = -rigDepthM(rig) - gapM
  const behind = {
    point: { xM: 0, yM: 0, zM: wallZM },
    normal: { xM: 0, yM: 0, zM: 1 },
    absorption: absorptionOf(finish),
  }
  return { free, without: walledField(free, others), both: walledField(free, [behind, ...others]), wallZM }
}

/** Mean square level of a band from many lines. */
function meanDb(transfer: (frequencyHz: number) => Complex, lowerHz: number, upperHz: number, lines: number): number {
  let sum = 0
  for (let i = 0; i < lines; i++) sum += magnitude(transfer(lowerHz * (upperHz / lowerHz) ** ((i + 0.5) / lines))) ** 2
  return 10 * Math.log10(sum / lines)
}

/** A loop through a response, both as periodic signals: what a convolver does to a steady loop. */
function throughResponse(loop: Float32Array, response: Float32Array): Float32Array {
  const padded = new Float32Array(loop.length)
  padded.set(response)
  const [a, b] = [realDft(loop), realDft(padded)]
  const re = a.re.map((value, i) => value * (b.re[i] ?? 0) - (a.im[i] ?? 0) * (b.im[i] ?? 0))
  const im = a.re.map((value, i) => value * (b.im[i] ?? 0) + (a.im[i] ?? 0) * (b.re[i] ?? 0))
  return Float32Array.from(inverseRealDft({ re, im }, loop.length))
}

const scenes: [string, Partial<Flat>][] = [
  ['a wall', {}],
  ['a wall, floor and side wall of wood', { floor: true, sideGapM: 0.5, finish: 'wooden-lining' }],
  ['a compact box against the wall', { rig: compact, gapM: 0.05, fromWallM: 0.05 }],
]

describe.each(scenes)('%s', (_, change) => {
  const question = { ...usual, ...change }
  const { without, both, wallZM } = directly(question)
  const front: Point = { xM: 0, yM: 1.6, zM: question.frontM }
  const rear: Point = { xM: 0, yM: 1.6, zM: wallZM + question.fromWallM }
  const answer = answerOf(question)

  test('the three curves are those of the field itself, within 0.1 dB', () => {
    // The chart's zero is the passband in front without the wall; a difference of curves needs none.
    const zeroDb = (answer.frontFreeDb[60] ?? 0) - meanDbOf(60, (f) => without.transferAt(front, f))
    function meanDbOf(band: number, transfer: (frequencyHz: number) => Complex) {
      const { lowerHz, upperHz } = narrowBands[band] as (typeof narrowBands)[number]
      return meanDb(transfer, lowerHz, upperHz, 3)
    }
    for (let band = 0; band < narrowBands.length; band += 7) {
      for (const [curve, transfer] of [
        [answer.frontFreeDb, (f: number) => without.transferAt(front, f)],
        [answer.frontDb, (f: number) => both.transferAt(front, f)],
        [answer.rearDb, (f: number) => both.transferAt(rear, f)],
      ] as const) {
        expect(Math.abs((curve[band] ?? Number.NaN) - zeroDb - meanDbOf(band, transfer))).toBeLessThan(0.1)
      }
    }
  })

  test('at the frequency that is looked at, the trains add up to the field with the wall', () => {
    const change = amplitudeLevelDb(
      magnitude(both.transferAt(front, question.frequencyHz)) /
        magnitude(without.transferAt(front, question.frequencyHz)),
    )
    expect(answer.trains.changeDb).toBeCloseTo(change, 1)
    // The last wave of the drawing is steady: its highest point is the amplitude of the sum.
    const lastWave = answer.trains.sum.filter(
      (_, i) => (answer.trains.timesMs[i] ?? 0) * 0.07 > answer.trains.lateWaves + 1.4,
    )
    expect(amplitudeLevelDb(Math.max(...lastWave))).toBeCloseTo(change, 1)
  })

  test('noise through the responses has the predicted third-octave levels, 40 Hz to 16 kHz within 0.5 dB', () => {
    const sampleRateHz = 48000
    const loop = pinkNoise({ sampleRateHz, durationS: 8, seed: 7 })
    const bands = thirdOctaveBands(40, 16000)
    const sourceDb = thirdOctaveLevelsDb(loop, sampleRateHz, bands)
    const places = responsesOf({ ...question, compare: 'places', sampleRateHz, length: 8192 })
    const wall = responsesOf({ ...question, compare: 'wall', sampleRateHz, length: 8192 })
    const levelsOf = (response: Float32Array) =>
      thirdOctaveLevelsDb(throughResponse(loop, response), sampleRateHz, bands).map(
        (level, band) => level - (sourceDb[band] ?? 0),
      )
    // Enough lines for the ripple of the longest way round.
    const predictedOf = (transfer: (frequencyHz: number) => Complex) =>
      bands.map(({ lowerHz, upperHz }) => meanDb(transfer, lowerHz, upperHz, 8 + Math.ceil((upperHz - lowerHz) * 0.12)))
    const freeDb = predictedOf((f) => without.transferAt(front, f))
    const passband = freeDb.filter((_, band) => {
      const { nominalHz = 0 } = bands[band] ?? {}
      return nominalHz >= 100 && nominalHz <= 10000
    })
    const zeroDb = 10 * Math.log10(passband.reduce((sum, level) => sum + 10 ** (level / 10), 0) / passband.length)
    for (const [name, response, predicted] of [
      ['behind', places.here, predictedOf((f) => both.transferAt(rear, f))],
      ['in front', places.front, predictedOf((f) => both.transferAt(front, f))],
      ['without the wall', wall.front, freeDb],
    ] as const) {
      const heard = levelsOf(response)
      bands.forEach(({ nominalHz }, band) => {
        const error = (heard[band] ?? Number.NaN) - ((predicted[band] ?? 0) - zeroDb)
        expect(Math.abs(error), `${name}, ${nominalHz} Hz: ${error.toFixed(2)} dB`).toBeLessThan(0.5)
      })
    }
    expect(wall.here).toEqual(places.front)
  })
})

test('3.4 m there and back: about 50 Hz dips, and the 100 Hz of the slip gains', () => {
  const answer = answerOf(lessonCase)
  expect(answer.thereAndBackM).toBeCloseTo(3.4, 9)
  expect(answer.ruleDipsHz[0]).toBeCloseTo(343.2 / (2 * 3.4), 1)
  expect(answer.ruleRisesHz[0]).toBeCloseTo(343.2 / 3.4, 1)
  expect(answer.dip?.frequencyHz).toBeGreaterThan(42)
  expect(answer.dip?.frequencyHz).toBeLessThan(51)
  expect(answer.dip?.changeDb).toBeLessThan(-4)
  expect(answer.trains.changeDb).toBeGreaterThan(2)
})

test('the belief that the lesson opens with says the way and the wave that its case has', () => {
  const lesson = readFileSync(join(import.meta.dirname, '../../../../../content/lessons/the-wall-joins-in.mdx'), 'utf8')
  const facts = wallFacts(topOverSub)
  const wayM = facts['there-and-back'].value
  const [wave, feet] = [Math.round(facts['rule-rise'].value / 10) * 10, Math.round(wayM / 0.3048)]
  expect(lesson).toContain(
    `belief: ${wayM.toFixed(1)} m (${feet} ft) to the wall and back is one wave of ${wave} Hz, so ${wave} Hz cancels.`,
  )
})

test('on the wall the pressure is that of free air, as many times as the wall gives back', () => {
  const question = { ...usual, gapM: 2, fromWallM: 0, frequencyHz: 40 }
  const answer = answerOf(question)
  const { free, without, both, wallZM } = directly(question)
  const onWall = { xM: 0, yM: 1.6, zM: wallZM }
  const ratio = magnitude(both.transferAt(onWall, 40)) / magnitude(free.transferAt(onWall, 40))
  expect(ratio).toBeCloseTo(1 + Math.sqrt(1 - 0.02), 9)
  const front = { xM: 0, yM: 1.6, zM: 4 }
  const expected = amplitudeLevelDb(
    (ratio * magnitude(free.transferAt(onWall, 40))) / magnitude(both.transferAt(front, 40)),
  )
  expect(answer.rearAtFrequencyDb).toBeCloseTo(expected, 1)
  expect(magnitude(without.transferAt(front, 40))).toBe(magnitude(free.transferAt(front, 40)))
})

test('the wall seems farther away by what the wave to the rear is late in free air', () => {
  // The compact box has its middle at ear height, so that height adds nothing.
  const { dip, seemsFartherM } = answerOf({ ...usual, rig: compact, gapM: 2.2 })
  const { free } = directly({ ...usual, rig: compact })
  const frequencyHz = dip?.frequencyHz ?? Number.NaN
  const [front, rear] = [200, -200].map((zM) => free.transferAt({ xM: 0, yM: 1.6, zM }, frequencyHz)) as [
    Complex,
    Complex,
  ]
  const lateRad = Math.atan2(front.im, front.re) - Math.atan2(rear.im, rear.re)
  const aheadM = (lateRad * air.speedOfSoundMps) / (4 * Math.PI * frequencyHz)
  // 2 cm: near the listener waves are not yet round, and the image is weaker the farther the dip's neighbours are.
  expect(Math.abs((seemsFartherM ?? Number.NaN) - aheadM)).toBeLessThan(0.02)
})

test('nearer the wall, the dip is higher and deeper; warmer air moves it up by 1.7 per cent', () => {
  const [near, far] = [answerOf({ ...usual, gapM: 0.3 }), answerOf({ ...usual, gapM: 1.8 })]
  expect(near.dip?.frequencyHz).toBeGreaterThan(far.dip?.frequencyHz ?? Number.NaN)
  expect(near.dip?.changeDb).toBeLessThan(far.dip?.changeDb ?? Number.NaN)
  expect((far.dipShiftHz ?? 0) / (far.dip?.frequencyHz ?? 1)).toBeCloseTo(0.0169, 3)
})

test('between box and wall, as far away as the front, there can be more bass', () => {
  const faceM = 1.7
  const { rearBassDb, pathDb } = answerOf({ ...lessonCase, frontM: faceM - 0.3 })
  expect(pathDb).toBeCloseTo(0, 9)
  expect(rearBassDb).toBeGreaterThan(1)
})

test('a wall that absorbs more takes less', () => {
  const depths = (['hard-walls', 'wooden-lining'] as const).map(
    (finish) => answerOf({ ...usual, finish }).dip?.changeDb ?? 0,
  )
  expect(depths[0]).toBeLessThan(depths[1] ?? Number.NaN)
  for (const finish of wallFinishNames) expect(finishOf(finish).absorption).toHaveLength(6)
})

test('what passes 120 dB in a third octave is not called a loudness', () => {
  const loud = { ...usual, gapM: 0.05, fromWallM: 0, rig: compact, sideGapM: 0.05, floor: true, referenceDbA: 105 }
  expect(answerOf(loud).heard).toBeNull()
  expect(answerOf({ ...loud, referenceDbA: 70 }).heard?.rear.sones).toBeGreaterThan(0)
})

test('the picture is re the front in free air, alike on both sides, and open beyond no wall', () => {
  const question = { ...usual, frequencyHz: 60 }
  const { columns, rows, levelDb, inside } = pictureOf(question)
  const middle = (columns - 1) / 2
  const row = Math.round(((1.86 + 4) / 12) * (rows - 1))
  const zM = -1.86 + (12 * row) / (rows - 1)
  const { free, both } = directly(question)
  const place = { xM: 0, yM: 1.6, zM }
  const expected = amplitudeLevelDb(magnitude(both.transferAt(place, 60)) / magnitude(free.transferAt(place, 60)))
  expect(Math.abs((levelDb[row * columns + middle] ?? Number.NaN) - expected)).toBeLessThan(0.05)
  expect(levelDb[row * columns + middle + 5]).toBe(levelDb[row * columns + middle - 5])
  expect(levelDb.every(Number.isFinite)).toBe(true)
  const corner = pictureOf({ ...question, sideGapM: 0.5 })
  expect(corner.columns).toBe(columns)
  expect(corner.inside[row * columns + columns - 1]).toBe(1)
  expect(inside[row * columns + columns - 1]).toBe(0)
})

test('the guess has the rule, two dips and a change for every step', () => {
  const guess = guessedWall(topOverSub)
  expect(guess.ruleRiseHz).toBeCloseTo(2 * guess.ruleDipHz, 9)
  expect(guess.ruleSecondDipHz).toBeCloseTo(3 * guess.ruleDipHz, 9)
  expect(guess.dip.frequencyHz).toBeCloseTo(answerOf(lessonCase).dip?.frequencyHz ?? Number.NaN, 6)
  expect(guess.secondDip.frequencyHz).toBeGreaterThan(guess.dip.frequencyHz)
  expect(guess.changesDb.every(Number.isFinite)).toBe(true)
})

test.each([
  ['gapM', { gapM: 0 }],
  ['gapM', { gapM: 7 }],
  ['gapM', { gapM: Number.NaN }],
  ['fromWallM', { fromWallM: 1.3 }],
  ['fromWallM', { fromWallM: -0.1 }],
  ['frontM', { frontM: 0.5 }],
  ['frequencyHz', { frequencyHz: 10 }],
  ['sideGapM', { sideGapM: 0 }],
  ['referenceDbA', { referenceDbA: 130 }],
  ['finish', { finish: 'marble' as 'hard-walls' }],
])('a wrong %s is refused by name', (name, change) => {
  expect(() => answerOf({ ...usual, ...change })).toThrow(RangeError)
  expect(() => answerOf({ ...usual, ...change })).toThrow(new RegExp(`${name} is .*allowed is`))
})
