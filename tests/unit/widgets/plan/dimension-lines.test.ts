import { describe, expect, test } from 'vitest'
import { planOn } from '../../../../src/charts/plan-context.ts'
import type { Plan } from '../../../../src/state/plan-schema.ts'
import { distanceColumns, distanceRows } from '../../../../src/widgets/plan/describe-distances.ts'
import { dimensionLines, roomOf } from '../../../../src/widgets/plan/dimension-lines.ts'
import { grangePlan } from '../../../../src/widgets/plan/grange-plan.ts'
import { known, randomEdits, smallPlan } from '../../state/plan-samples.ts'

const words = {
  hallLength: (lengthM: number) => `${lengthM} m long`,
  hallWidth: (widthM: number) => `${widthM} m`,
  length: (lengthM: number) => `${lengthM.toFixed(2)} m`,
}
const viewOf = ({ ground: { widthM, lengthM } }: Plan, widthPx = 760) =>
  planOn({ xMinM: -widthM / 2, xMaxM: widthM / 2, zMinM: 0, zMaxM: lengthM }, widthPx, 5)
const textsOf = (plan: Plan, kind: string) =>
  dimensionLines(plan, known, viewOf(plan), words)
    .filter((line) => line.kind === kind)
    .map(({ label }) => label.text)

describe('dimension lines', () => {
  test('have the hall’s sides, and each stack’s way to the wall behind and to the nearer side', () => {
    const plan = grangePlan()
    expect(textsOf(plan, 'hall')).toEqual(['18 m long', '11 m'])
    // The left stack: 3 m from the wall behind, 5.5 − 2.5 from the side; the right one 3 m, and 0.45 m, which is too short for its words.
    // The quiet table stands where the first would be written.
    expect(textsOf(plan, 'box')).toEqual(['3.00 m', '3.00 m'])
    const cleared = { ...plan, places: plan.places.filter(({ id }) => id !== 'p2') }
    expect(textsOf(cleared, 'box')).toEqual(['3.00 m', '3.00 m', '3.00 m'])
  })

  test('of the hall lie where they cross no box: along the other wall, where one stands at theirs', () => {
    const plan = grangePlan()
    const view = viewOf(plan)
    const yOf = (of: Plan) => dimensionLines(of, known, view, words)[0]?.from.y ?? Number.NaN
    // The right stack stands 0.45 m from the wall, within the line's 22 px.
    expect(yOf(plan)).toBe(view.top(-5.5) + 22)
    expect(yOf({ ...plan, cabinets: plan.cabinets.filter(({ xM }) => xM < 0) })).toBe(view.top(5.5) - 22)
  })

  test('are to scale', () => {
    const plan = grangePlan()
    const view = viewOf(plan)
    const [length] = dimensionLines(plan, known, view, words)
    expect((length?.to.x ?? 0) - (length?.from.x ?? 0)).toBeCloseTo(18 * view.pxPerM, 9)
  })

  test('tell how far a place is from the nearest box', () => {
    const plan = { ...grangePlan(), places: [{ id: 'p1', name: 'Here', xM: -2.5, zM: 9, earM: 1.6 }], mainPlace: 'p1' }
    expect(textsOf(plan, 'place')).toEqual(['6.00 m'])
  })

  test('of random plans have no two labels on each other, and none outside the drawing', () => {
    let count = 0
    for (let seed = 1; seed <= 60; seed++) {
      const plan = randomEdits(seed, 30).reduce((now, edit) => edit(now), smallPlan)
      const view = viewOf(plan, seed % 2 ? 760 : 380)
      const rooms = dimensionLines(plan, known, view, words).map(({ label }) => roomOf(label))
      count += rooms.length
      for (const [index, a] of rooms.entries()) {
        expect(a.left >= 0 && a.right <= view.widthPx && a.top >= 0 && a.bottom <= view.heightPx).toBe(true)
        for (const b of rooms.slice(index + 1))
          expect(a.left < b.right && a.right > b.left && a.top < b.bottom && a.bottom > b.top).toBe(false)
      }
    }
    expect(count).toBeGreaterThan(60)
  })
})

test('the table of distances has every place and every spot where boxes stand', () => {
  const plan = grangePlan()
  expect(distanceColumns(plan)).toEqual(['place', 'to 1, 2', 'to 3, 4'])
  const rows = distanceRows(plan, 'm')
  expect(rows).toHaveLength(plan.places.length)
  // Dance floor (1.3, 9) from (−2.5, 3): √(3.8² + 6²) = 7.10; from (5.05, 3): √(3.75² + 6²) = 7.08
  expect(rows[0]?.slice(1)).toEqual(['7.10 m', '7.08 m'])
})
