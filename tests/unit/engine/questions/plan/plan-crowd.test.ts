import { beforeAll, describe, expect, test } from 'vitest'
import { crowdPath } from '../../../../../src/acoustics/field/crowd.ts'
import { planAnswer, planLevels } from '../../../../../src/engine/questions/plan/plan.ts'
import { cabinetSources } from '../../../../../src/engine/questions/plan/plan-boxes.ts'
import { planMap } from '../../../../../src/engine/questions/plan/plan-map.ts'
import { planScene } from '../../../../../src/engine/questions/plan/plan-scene.ts'
import { cabinetSounds } from '../../../../../src/engine/questions/plan/plan-sound.ts'
import type { PlanQuestion, StandingCabinet } from '../../../../../src/engine/questions/plan/plan-terms.ts'
import { grangeQuestion, loadGear, standing } from './plan-questions.ts'

beforeAll(loadGear)

const outdoors: PlanQuestion = { ...grangeQuestion, surroundings: { kind: 'outdoors', ground: 'grass' } }
const crowded = (question: PlanQuestion): PlanQuestion => ({ ...question, crowd: true })
const inFront = { id: 'p1', xM: -2.5, zM: 13, earM: 1.6 }
const behind = { id: 'p2', xM: -2.5, zM: 0.5, earM: 1.6 }

describe('people before the boxes of a plan', () => {
  test('take outdoors from the treble in front what a crowd takes of direct sound, and nothing behind or from the bass', () => {
    const top: PlanQuestion = { ...outdoors, cabinets: [standing('c1', 'top')], places: [inFront, behind] }
    const [before, after] = [planAnswer(top), planAnswer(crowded(top))]
    const horn = cabinetSources(top, top.cabinets[0] as StandingCabinet).at(-1)
    const path = crowdPath(horn as NonNullable<typeof horn>, { xM: -2.5, yM: 1.6, zM: 13 }, 1.6)
    expect(path.lossDb).toBeGreaterThan(3)
    expect(after.places[0]?.crowd).toEqual({
      box: 'c1',
      elevationDeg: path.elevationDeg,
      lossDb: path.lossDb,
      raiseM: path.raiseM,
    })
    expect(after.places[1]?.crowd).toBeUndefined()
    // Level at a place re the main place's programme, so what is added to all is taken out.
    const levels = (answer: typeof before, place: number) =>
      answer.places[place]?.levelsDb.map((level) => level - answer.liftDb) as number[]
    const takenAt = (place: number) =>
      levels(before, place).map((level, band) => level - (levels(after, place)[band] as number))
    for (const loss of takenAt(1)) expect(loss).toBeCloseTo(0, 9)
    const taken = takenAt(0)
    for (const loss of taken.slice(0, 10)) expect(loss).toBeCloseTo(0, 9)
    // The ground sends next to no treble there: it is grass, and the horn looks over it.
    for (const loss of taken.slice(17)) expect(Math.abs(loss - path.lossDb)).toBeLessThan(1.5)
  })

  test('take in a hall from the direct sound alone: less than outdoors, and at every line by the same as is left', () => {
    const question: PlanQuestion = { ...grangeQuestion, cabinets: [standing('c1', 'top')], places: [inFront, behind] }
    const scene = planScene(question)
    const cabinet = question.cabinets[0] as StandingCabinet
    const [without] = cabinetSounds(question, scene, cabinet, [inFront])
    const [withPeople] = cabinetSounds(crowded(question), scene, cabinet, [inFront])
    expect(withPeople?.energy).toEqual(without?.energy)
    expect(withPeople?.re.subarray(0, 100)).toEqual(without?.re.subarray(0, 100))
    const treble = (answer: ReturnType<typeof planAnswer>) => (answer.places[0]?.trebleDb as number) - answer.liftDb
    const lossOf = (of: PlanQuestion) => treble(planAnswer(of)) - treble(planAnswer(crowded(of)))
    const open = lossOf({ ...question, surroundings: outdoors.surroundings })
    expect(lossOf(question)).toBeGreaterThan(0.2)
    expect(lossOf(question)).toBeLessThan(open)
  })

  test('are told alike by the first answer, and stand on the map', () => {
    const question = crowded({ ...outdoors, places: [behind, inFront], mainPlace: 'p2' })
    expect(planLevels(question).places[1]?.crowd).toEqual(planAnswer(question).places[1]?.crowd)
    const map = (of: PlanQuestion) =>
      planMap({
        ...of,
        part: 'treble',
        floor: { widthM: 8, lengthM: 14 },
        heightM: 1.6,
        columns: 4,
        rows: 8,
        fromRow: 0,
        toRow: 8,
      })
    const [people, nobody] = [map(question), map({ ...question, crowd: false })]
    const taken = nobody.levelDb.map((level, cell) => level - (people.levelDb[cell] as number))
    // The first row is behind the boxes, the last one 10 m in front of them.
    for (const loss of taken.subarray(0, 4)) expect(loss).toBeCloseTo(0, 6)
    for (const loss of taken.subarray(28)) expect(loss).toBeGreaterThan(3)
  })
})
