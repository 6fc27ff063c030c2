import { readFileSync } from 'node:fs'
import { join } from 'node:path'
import { describe, expect, test } from 'vitest'
import {
  type Band,
  hallField,
  magnitude,
  makeAir,
  monopole,
  type PlacedSource,
  type Point,
  pressureFrom,
  type Rig,
  thirdOctaveBands,
} from '../../../../../src/acoustics/index.ts'
import { realDft } from '../../../../../src/acoustics/signals/dft.ts'
import { boxOf, boxPlaces, sizeOf, stackPlaces } from '../../../../../src/engine/questions/steer/steer-boxes.ts'
import { steerResponses, steerWayResponse } from '../../../../../src/engine/questions/steer/steer-responses.ts'
import type { SteerQuestion, SteerSet } from '../../../../../src/engine/questions/steer/steer-terms.ts'
import { hallOf } from '../../../../../src/engine/scene/hall-scene.ts'
import { evenHall } from '../../../../../src/engine/scene/hall-terms.ts'
import { loadSolvedRig, solvedModel } from '../../../../../src/engine/scene/solved-gear.ts'

const air = makeAir()
const c = air.speedOfSoundMps
const gear = (name: string): Rig =>
  JSON.parse(readFileSync(join(import.meta.dirname, '../../../../../content/gear', `${name}.json`), 'utf8'))
const rig = gear('top-over-sub')
const column = gear('column-on-base')
for (const each of [rig, column]) await loadSolvedRig(each)

const pair: SteerSet = {
  arrangement: 'pair',
  count: 2,
  spacingM: 1.35,
  delayS: 1.35 / c,
  inverted: true,
  turned: false,
  levelDb: -1,
}
const usual: SteerQuestion = {
  rig,
  point: false,
  set: pair,
  surroundings: { kind: 'outdoors', floor: 'hard' },
  front: { xM: 0, zM: 4 },
  behind: { xM: 0.5, zM: -3 },
  band: { fromHz: 40, toHz: 100 },
  frequencyHz: 63,
  error: 'none',
}
const sampleRateHz = 48000
const bands = thirdOctaveBands(31.5, 160)

/** Level of pink noise through a response, dB, by its own spectrum. */
function renderedDb(response: Float32Array, band: Band): number {
  const padded = new Float32Array(2 ** 18)
  padded.set(response)
  const { re, im } = realDft(padded)
  const stepHz = sampleRateHz / padded.length
  let [sum, weights] = [0, 0]
  for (let k = Math.ceil(band.lowerHz / stepHz); k * stepHz < band.upperHz; k++) {
    sum += ((re[k] as number) ** 2 + (im[k] as number) ** 2) / k
    weights += 1 / k
  }
  return 10 * Math.log10(sum / weights)
}

/** What the acoustics module says, by 60 lines a third octave. */
function predictedDb(
  question: SteerQuestion,
  what: 'set' | 'stack',
  place: { xM: number; zM: number },
  band: Band,
): number {
  const { cabinet, way } = boxOf(question.rig)
  const size = sizeOf(question)
  const box = { widthM: cabinet.widthM, heightM: cabinet.heightM, depthM: cabinet.depthM, drivers: way.drivers }
  const radiation = (hz: number) => (question.point ? monopole(hz, air) : solvedModel(box, hz, air))
  const unit = { radiation, yawRad: 0, gain: 1, delayS: 0, polarity: 1 as const }
  const stack = stackPlaces(question.set.count, size).map(
    ({ xM, yM, zM }): PlacedSource => ({ ...unit, position: { xM, yM, zM } }),
  )
  const set = boxPlaces(question.set, size).map(
    ({ xM, zM, turned, delayS, polarity, levelDb }): PlacedSource => ({
      ...unit,
      position: { xM, yM: size.heightM / 2, zM },
      yawRad: turned ? Math.PI : 0,
      gain: 10 ** (levelDb / 20),
      delayS,
      polarity,
    }),
  )
  const floor = { point: { xM: 0, yM: 0, zM: 0 }, normal: { xM: 0, yM: 1, zM: 0 }, absorption: () => 0 }
  const { surroundings } = question
  const at = (sources: PlacedSource[], { xM, zM }: { xM: number; zM: number }, hz: number, open: boolean): number => {
    const listener: Point = { xM, yM: 1.6, zM }
    if (open || surroundings.kind === 'outdoors') return magnitude(pressureFrom(sources, [floor], listener, hz, air))
    if (surroundings.kind === 'wall') {
      const wallZM = -question.set.spacingM - size.depthM - surroundings.gapM
      const wall = { point: { xM: 0, yM: 0, zM: wallZM }, normal: { xM: 0, yM: 0, zM: 1 }, absorption: () => 0 }
      return magnitude(pressureFrom(sources, [floor, wall], listener, hz, air))
    }
    const moved = (point: Point) => ({ xM: point.xM - 2.5, yM: point.yM, zM: point.zM + 3 })
    const placed = sources.map((source) => ({ ...source, position: moved(source.position) }))
    return magnitude(hallField(placed, hallOf(surroundings.design), hz, air)(moved(listener)))
  }
  const lines = surroundings.kind === 'hall' ? 40 : 60
  let sum = 0
  for (let i = 0; i < lines; i++) {
    const hz = band.lowerHz * (band.upperHz / band.lowerHz) ** ((i + 0.5) / lines)
    const transfer = at(what === 'set' ? set : stack, place, hz, false) / at(stack, question.front, hz, true)
    sum += (transfer * magnitude(steerWayResponse(way, hz))) ** 2
  }
  return 10 * Math.log10(sum / lines)
}

const length = 16384

describe('the sound of the set', () => {
  test.each([
    ['subs outdoors', usual],
    ['the column’s base outdoors', { ...usual, rig: column }],
    ['points outdoors', { ...usual, point: true }],
    ['subs before a wall', { ...usual, surroundings: { kind: 'wall', gapM: 3, floor: 'hard' } }],
    [
      'a line whose last box plays 20 ms late',
      {
        ...usual,
        behind: { xM: 0, zM: -6 },
        set: { ...pair, arrangement: 'end-fire', count: 3, spacingM: 1, delayS: 0.01, inverted: false },
      },
    ],
  ] as [string, SteerQuestion][])(
    '%s: third octaves from 31.5 to 160 Hz within 0.5 dB of what is predicted',
    (_, question) => {
      const behind = steerResponses({ ...question, compare: 'behind', sampleRateHz, length })
      const places = steerResponses({ ...question, compare: 'places', sampleRateHz, length })
      const front = steerResponses({ ...question, compare: 'front', sampleRateHz, length })
      for (const band of bands) {
        // Only where there is sound: the base plays from 45 Hz up, and a band that cancels holds its neighbours' skirts.
        const setDb = predictedDb(question, 'set', question.behind, band)
        if (setDb > -25) expect(Math.abs(renderedDb(behind.here, band) - setDb)).toBeLessThan(0.5)
        const stackDb = predictedDb(question, 'stack', question.behind, band)
        if (stackDb > -25) expect(Math.abs(renderedDb(behind.front, band) - stackDb)).toBeLessThan(0.5)
        const frontDb = predictedDb(question, 'set', question.front, band)
        if (frontDb > -25) expect(Math.abs(renderedDb(places.front, band) - frontDb)).toBeLessThan(0.5)
      }
      expect(places.here).toEqual(behind.here)
      expect(front.here).toEqual(places.front)
    },
  )

  test('the stack in front outdoors is flat but for the way’s own slopes and the limit of bass', () => {
    const { front } = steerResponses({ ...usual, compare: 'front', sampleRateHz, length })
    const at = (hz: number) => 20 * Math.log10(magnitude(steerWayResponse(boxOf(rig).way, hz)))
    for (const { nominalHz, lowerHz, upperHz, ...band } of thirdOctaveBands(50, 80)) {
      const db = renderedDb(front, { nominalHz, lowerHz, upperHz, ...band })
      expect(Math.abs(db - at(Math.sqrt(lowerHz * upperHz)))).toBeLessThan(0.3)
    }
  })

  test('begins after a short run-up and has died away at its end', () => {
    const { here, front } = steerResponses({ ...usual, compare: 'behind', sampleRateHz, length })
    for (const response of [here, front]) {
      const peak = response.reduce((most, sample) => Math.max(most, Math.abs(sample)), 0)
      const worst = (from: number, to: number) =>
        response.subarray(from, to).reduce((most, sample) => Math.max(most, Math.abs(sample)), 0)
      expect(worst(0, 240)).toBeLessThan(peak / 100)
      expect(worst(length - 2000, length)).toBeLessThan(peak / 300)
    }
  })

  test('an error is heard', () => {
    const clean = steerResponses({ ...usual, compare: 'behind', sampleRateHz, length })
    const wrong = steerResponses({ ...usual, error: 'polarity', compare: 'behind', sampleRateHz, length })
    expect(wrong.front).toEqual(clean.front)
    const [band] = thirdOctaveBands(63, 63) as [Band]
    expect(renderedDb(wrong.here, band)).toBeGreaterThan(renderedDb(clean.here, band) + 6)
  })

  test('in a hall it rings, and its third octaves are the hall’s', () => {
    const design = evenHall({ lengthM: 12, widthM: 9, heightM: 4 }, 0.25)
    const question: SteerQuestion = {
      ...usual,
      surroundings: { kind: 'hall', design },
      behind: { xM: 1, zM: -2.6 },
    }
    const { here, front } = steerResponses({ ...question, compare: 'places', sampleRateHz, length })
    expect(here.length).toBeGreaterThan(length)
    expect(front.length).toBe(here.length)
    for (const band of bands) {
      for (const [response, place] of [
        [here, question.behind],
        [front, question.front],
      ] as const) {
        const db = predictedDb(question, 'set', place, band)
        if (db > -25) expect(Math.abs(renderedDb(response, band) - db)).toBeLessThan(0.5)
      }
    }
  }, 120_000)
})

describe('bad input', () => {
  test.each([
    [{ compare: 'sideways' as never }, /compare is sideways/],
    [{ sampleRateHz: 100 }, /sampleRateHz is 100/],
    [{ length: 10 }, /length is 10/],
    [{ set: { ...pair, spacingM: 0 } }, /spacingM is out of range/],
  ])('%o', (change, message) => {
    expect(() => steerResponses({ ...usual, compare: 'behind', sampleRateHz, length, ...change })).toThrow(message)
  })
})
