import { beforeAll, expect, test } from 'vitest'
import { planAnswer } from '../../../../../src/engine/questions/plan/plan.ts'
import { planResponses, unlevelledPlanResponse } from '../../../../../src/engine/questions/plan/plan-responses.ts'
import type { PlanQuestion } from '../../../../../src/engine/questions/plan/plan-terms.ts'
import { pinkLevelsDb } from '../../../../../src/engine/scene/hall-level-correction.ts'
import { leadInS } from '../../../../../src/engine/scene/responses.ts'
import { heardBands } from '../../../../../src/engine/scene/third-octaves.ts'
import { grangeQuestion, loadGear, standing } from './plan-questions.ts'

beforeAll(loadGear)

const sampleRateHz = 16000
const asked = (here: PlanQuestion, front: PlanQuestion) =>
  planResponses({ rigs: here.rigs, here, front, placeId: 'p2', sampleRateHz })
const bands = heardBands.filter(({ upperHz }) => upperHz <= sampleRateHz / 2)

test('a plan sounds as loud as it is computed, in every third octave, and against another one', () => {
  const quieter = {
    ...grangeQuestion,
    cabinets: grangeQuestion.cabinets.map((box) => (box.id === 'c2' ? { ...box, levelDb: -9 } : box)),
  }
  const { here, front } = asked(quieter, grangeQuestion)
  const levelsOf = (plan: PlanQuestion) => planAnswer(plan).places.find(({ id }) => id === 'p2')?.levelsDb ?? []
  const [sounding, wanted] = [pinkLevelsDb(here, sampleRateHz), levelsOf(quieter)]
  const [soundingFront, wantedFront] = [pinkLevelsDb(front, sampleRateHz), levelsOf(grangeQuestion)]
  // All against one band, 1 kHz, of the second plan: what is told apart is the level of each band of both.
  const at = bands.findIndex(({ nominalHz }) => nominalHz === 1000)
  for (const [band, { nominalHz }] of bands.entries()) {
    if (nominalHz < 40 || nominalHz > 5000) continue
    const is = (sounding[band] as number) - (soundingFront[at] as number)
    const shouldBe = (wanted[band] as number) - (wantedFront[at] as number)
    // 0.7 dB: the filter that levels goes in straight lines from band to band.
    expect(Math.abs(is - shouldBe), `${nominalHz} Hz`).toBeLessThan(0.7)
  }
})

test('before it is levelled, it is near what is computed: the parts are the plan’s own', () => {
  const { liftDb, places } = planAnswer(grangeQuestion)
  const made = pinkLevelsDb(
    unlevelledPlanResponse(grangeQuestion, 'p2', 10 ** (liftDb / 20), sampleRateHz),
    sampleRateHz,
  )
  const wanted = places.find(({ id }) => id === 'p2')?.levelsDb ?? []
  const off = bands.flatMap(({ nominalHz }, band) =>
    nominalHz >= 125 && nominalHz <= 5000 ? [Math.abs((made[band] as number) - (wanted[band] as number))] : [],
  )
  // 3 dB: at one place direct sound, images and tail add more or less in step, which the levels leave out.
  expect(Math.max(...off)).toBeLessThan(3)
})

test('a box that plays late comes late, and nothing sounds before the first one', () => {
  const one = {
    ...grangeQuestion,
    cabinets: [standing('c1', 'top'), standing('c2', 'top', { xM: 2.5, zM: 9, delayS: 0.03 })],
  }
  const early = unlevelledPlanResponse({ ...one, cabinets: one.cabinets.slice(0, 1) }, 'p2', 1, sampleRateHz)
  const both = unlevelledPlanResponse(one, 'p2', 1, sampleRateHz)
  const upTo = Math.round((leadInS + 0.01) * sampleRateHz)
  const energy = (samples: Float32Array, to: number) => samples.slice(0, to).reduce((sum, x) => sum + x * x, 0)
  // Until the late one arrives, some 45 ms after the first, the early sound is the first box's; the tail is that of both.
  expect(energy(both, upTo) / energy(early, upTo)).toBeGreaterThan(0.7)
  expect(energy(both, upTo) / energy(early, upTo)).toBeLessThan(1.5)
  expect(energy(both, Math.round(0.8 * leadInS * sampleRateHz)) / energy(both, both.length)).toBeLessThan(0.01)
})

test('outdoors, and for a place that is none, it is refused', () => {
  const outdoors: PlanQuestion = { ...grangeQuestion, surroundings: { kind: 'outdoors', ground: 'hard' } }
  expect(() => asked(outdoors, outdoors)).toThrow(/outdoors/)
  expect(() =>
    planResponses({ rigs: [], here: grangeQuestion, front: grangeQuestion, placeId: 'p9', sampleRateHz }),
  ).toThrow(/p9/)
  expect(() =>
    planResponses({ rigs: [], here: grangeQuestion, front: grangeQuestion, placeId: 'p1', sampleRateHz: 100 }),
  ).toThrow(RangeError)
})
