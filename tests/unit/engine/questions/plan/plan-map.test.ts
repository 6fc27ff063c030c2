import { beforeAll, describe, expect, test } from 'vitest'
import { planGridPoint } from '../../../../../src/acoustics/index.ts'
import { planAnswer, planLevels } from '../../../../../src/engine/questions/plan/plan.ts'
import { planMap } from '../../../../../src/engine/questions/plan/plan-map.ts'
import { planMapGrid } from '../../../../../src/engine/questions/plan/plan-map-grid.ts'
import type { MapPart, PlanMapQuestion, PlanQuestion } from '../../../../../src/engine/questions/plan/plan-terms.ts'
import { heardBands } from '../../../../../src/engine/scene/third-octaves.ts'
import { grangeQuestion, loadGear, standing } from './plan-questions.ts'

beforeAll(loadGear)

const stacks: PlanQuestion = {
  ...grangeQuestion,
  cabinets: [
    standing('c1', 'top'),
    standing('c2', 'sub'),
    standing('c3', 'top', { xM: 5, delayS: 0.002 }),
    standing('c4', 'sub', { xM: 5, polarity: -1, levelDb: -3 }),
  ],
}
const outdoors: PlanQuestion = { ...stacks, surroundings: { kind: 'outdoors', ground: 'grass' } }
const mapOf = (question: PlanQuestion, part: MapPart, change: Partial<PlanMapQuestion> = {}): PlanMapQuestion => ({
  ...question,
  part,
  floor: { widthM: 11, lengthM: 18 },
  heightM: 1.6,
  columns: 5,
  rows: 7,
  fromRow: 0,
  toRow: 7,
  ...change,
})

describe('a map', () => {
  const parts: MapPart[] = ['bass', 'middle', 'treble', 63, 1000]
  test.each([
    ['in the demo hall', stacks],
    ['on grass', outdoors],
  ])(
    '%s has the levels of planAnswer at its places: groups within 1 dB, third octaves within 1.5 dB',
    (_, question) => {
      const asked = mapOf(question, 'bass', { columns: 3, rows: 5, toRow: 5 })
      const grid = planMapGrid(asked)
      const cells = Array.from({ length: 15 }, (_, cell) => cell)
      const spots = cells.map((cell) => {
        const { xM, zM } = planGridPoint(grid, cell % 3, Math.floor(cell / 3))
        return { id: `s${cell}`, xM, zM, earM: 1.6 }
      })
      const { places } = planAnswer({ ...question, places: [...question.places, ...spots] })
      const [main] = places
      for (const part of parts) {
        const { levelDb, inside } = planMap({ ...asked, part })
        expect(inside.every((value) => value === 0)).toBe(true)
        for (const cell of cells) {
          const place = places[question.places.length + cell]
          const band = heardBands.findIndex(({ nominalHz }) => nominalHz === part)
          const wanted =
            typeof part === 'number'
              ? (place?.levelsDb[band] as number) - (main?.levelsDb[band] as number)
              : (place?.reMain[`${part}Db`] as number)
          expect(Math.abs((levelDb[cell] as number) - wanted), `${part} at ${cell}`).toBeLessThan(
            typeof part === 'number' ? 1.5 : 1,
          )
        }
      }
    },
  )

  test('is the same in strips, and after a box was moved there and back', () => {
    const whole = planMap(mapOf(stacks, 'bass'))
    const strips = [0, 1, 2, 3, 4, 5, 6].map((row) => planMap(mapOf(stacks, 'bass', { fromRow: row, toRow: row + 1 })))
    expect(strips.flatMap(({ levelDb }) => [...levelDb])).toEqual([...whole.levelDb])
    const moved = { ...stacks, cabinets: stacks.cabinets.map((each) => (each.id === 'c2' ? { ...each, zM: 4 } : each)) }
    expect(planMap(mapOf(moved, 'bass')).levelDb).not.toEqual(whole.levelDb)
    expect(planMap(mapOf(stacks, 'bass')).levelDb).toEqual(whole.levelDb)
  })

  test('is 0 dB at the main place, marks the inside of boxes, and is finite', () => {
    const [main] = stacks.places
    const floor = { widthM: 2 * (0.05 + 1e-9), lengthM: (main?.zM ?? 0) + 0.05 }
    const at = planMap(mapOf(stacks, 'treble', { floor, columns: 2, rows: 2, fromRow: 1, toRow: 2 }))
    expect(at.levelDb[0]).toBeCloseTo(0, 3)
    const low = planMap(mapOf(stacks, 40, { heightM: 0.3, columns: 45, rows: 73, fromRow: 10, toRow: 12 }))
    expect(low.inside.some((value) => value === 1)).toBe(true)
    expect(low.levelDb.every(Number.isFinite)).toBe(true)
  })

  test('refuses rows that it does not have, a part without a third octave, a height under the floor, and no box', () => {
    expect(() => planMap(mapOf(stacks, 'bass', { fromRow: 7, toRow: 8 }))).toThrow(RangeError)
    expect(() => planMap(mapOf(stacks, 70))).toThrow(/third octaves/)
    expect(() => planMap(mapOf(stacks, 'bass', { heightM: 0 }))).toThrow(/heightM/)
    expect(() => planMap(mapOf({ ...stacks, cabinets: [] }, 'bass'))).toThrow(RangeError)
    expect(() => planMap(mapOf({ ...stacks, mainPlace: 'p9' }, 'bass'))).toThrow(/mainPlace/)
  })
})

describe('the coarse levels', () => {
  test('of bass, middle and treble are within 1 dB of the whole answer’s, and 0.5 dB r.m.s.', () => {
    const places = [
      ...stacks.places,
      ...[4, 7, 11, 15].map((zM, i) => ({ id: `q${i}`, xM: 3.5 - 2 * i, zM, earM: 1.4 })),
    ]
    for (const question of [
      { ...stacks, places },
      { ...outdoors, places },
    ]) {
      const [whole, coarse] = [planAnswer(question).places, planLevels(question).places]
      const errors = whole.flatMap(({ reMain }, index) =>
        (['bassDb', 'middleDb', 'trebleDb'] as const).map(
          (group) => (coarse[index]?.reMain[group] as number) - reMain[group],
        ),
      )
      expect(errors).toHaveLength(3 * places.length)
      expect(Math.max(...errors.map(Math.abs))).toBeLessThan(1)
      expect(Math.sqrt(errors.reduce((sum, error) => sum + error * error, 0) / errors.length)).toBeLessThan(0.5)
    }
  })
})
