import { describe, expect, test } from 'vitest'
import type { EveningAnswer } from '../../../../src/widgets/decide/decide-evening.svelte.ts'
import {
  decideColumns,
  decideRows,
  decideTitle,
  endWords,
  stepWords,
} from '../../../../src/widgets/decide/describe-decide.ts'
import type { EveningLevels } from '../../../../src/widgets/decide/evening-levels.ts'
import { eveningPlans, eveningSteps, setUpPlans } from '../../../../src/widgets/decide/evening-plans.ts'
import { bestSetUp, guessSetUpVerdict } from '../../../../src/widgets/guess-set-up/describe-guess-set-up.ts'

const levels = (floor: number, table: number, band: number, outsideDbC: number): EveningLevels => ({
  places: Object.fromEntries(
    [floor, table, band, 97].map((bassDb, index) => [`p${index + 1}`, { bassDb, trebleDb: 85, aWeightedDb: 94 }]),
  ),
  outsideDbC,
})
const answer: EveningAnswer = {
  usual: levels(100.6, 106.3, 100.7, 65.5),
  before: levels(102, 103, 100.6, 64.4),
  now: levels(99.8, 97.2, 95.2, 59.8),
}

describe('the evening', () => {
  const plans = eveningPlans()

  test('keeps what was decided before, and changes one thing a step', () => {
    const changed = eveningSteps.slice(1).map((step, index) => {
      const [before, after] = [plans[eveningSteps[index] ?? 'usual'], plans[step]]
      return [
        after.places.filter(({ id, xM, zM }) => {
          const was = before.places.find((place) => place.id === id)
          return was?.xM !== xM || was.zM !== zM
        }).length,
        after.cabinets.filter(
          (box) => JSON.stringify(box) !== JSON.stringify(before.cabinets.find(({ id }) => id === box.id)),
        ).length,
      ]
    })
    expect(changed).toEqual([
      [1, 0],
      [0, 4],
      [0, 2],
      [0, 2],
      [0, 2],
      [0, 2],
    ])
    for (const plan of Object.values(plans)) expect(plan.programmeDbA).toBe(plans.usual.programmeDbA)
  })

  test('has its table as far from one stack as from the other, at first', () => {
    const table = plans.usual.places.find(({ id }) => id === 'p2')
    const ways = plans.usual.cabinets.map(({ xM, zM }) => Math.hypot(xM - (table?.xM ?? 0), zM - (table?.zM ?? 0)))
    expect(Math.max(...ways) - Math.min(...ways)).toBeLessThan(0.1)
  })

  test('the pair is late by the way between its boxes', () => {
    const [rear, front] = [true, false].map((inverted) =>
      plans.steer.cabinets.find((box) => box.box.endsWith('sub') && box.inverted === inverted),
    )
    const spacingM = (front?.zM ?? 0) - (rear?.zM ?? 0)
    expect(rear?.delayMs).toBeCloseTo((1000 * spacingM) / 343.2, 2)
    expect(rear?.xM).toBe(front?.xM)
    expect(setUpPlans().pair.cabinets.filter(({ inverted }) => inverted)).toHaveLength(1)
  })

  test('is told by what a step does, and by all of it at the end', () => {
    expect(decideTitle('usual', answer)).toBe('As usual: the table gets 6 dB more bass than the dance floor')
    expect(decideTitle('steer', answer)).toBe(
      'The subs become a pair: bass 6 dB down at the table, 2 dB down on the floor',
    )
    expect(decideRows('steer', answer, plans.steer).map((row) => row.join(' '))).toContain(
      'Quiet table 97.2 dB 5.8 dB down 9.1 dB down',
    )
    expect(decideRows('usual', answer, plans.usual)[0]).toHaveLength(decideColumns('usual').length)
    expect(endWords('steer', answer)).toBe('')
    expect(endWords('level', answer)).toMatch(
      /9 dB down at the table.*1 dB down on the floor.*at the cottage, 6 dB down/,
    )
    for (const step of eveningSteps)
      for (const units of ['m', 'ft'] as const)
        expect(stepWords(step, plans[step], units)).not.toMatch(/NaN|undefined|[{}]/)
  })
})

describe('the guess', () => {
  const drops = [
    { setUp: 'down', tableDb: 5, floorDb: 4.2 },
    { setUp: 'pair', tableDb: 7.2, floorDb: 0.6 },
    { setUp: 'table', tableDb: 3.8, floorDb: 0 },
  ] as const

  test('is right where the table gets enough for the least loss', () => {
    expect(bestSetUp(drops)?.setUp).toBe('pair')
    expect(guessSetUpVerdict('pair', drops)).toMatch(/^Right\. The pair leaves the table 7 dB less/)
    expect(guessSetUpVerdict('table', drops)).toMatch(/^Moving the table costs nobody anything.*4 dB down.*unchanged/)
    expect(guessSetUpVerdict('down', drops)).toMatch(/everybody loses.*5 dB down.*4 dB down/)
  })

  test('a cheaper one that is not enough is not best, and none is best where none is enough', () => {
    expect(bestSetUp(drops.filter(({ setUp }) => setUp !== 'pair'))).toBeUndefined()
    expect(guessSetUpVerdict('down', [drops[0]])).toContain('None of the three')
  })
})
