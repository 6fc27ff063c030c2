import { readFileSync } from 'node:fs'
import { join } from 'node:path'
import { describe, expect, test } from 'vitest'
import { makeAir, type Rig } from '../../../../../src/acoustics/index.ts'
import { steerAnswer } from '../../../../../src/engine/questions/steer/steer.ts'
import { sizeOf } from '../../../../../src/engine/questions/steer/steer-boxes.ts'
import { steerProblem } from '../../../../../src/engine/questions/steer/steer-check.ts'
import {
  steerSearchPlan,
  steerSearchStep,
  steerSuggestion,
} from '../../../../../src/engine/questions/steer/steer-search.ts'
import {
  type Arrangement,
  arrangements,
  type SteerQuestion,
  type SteerSuggestion,
  type SteerSurroundings,
  steerRange,
  usableRule,
} from '../../../../../src/engine/questions/steer/steer-terms.ts'
import { textbookSet } from '../../../../../src/engine/questions/steer/textbook-set.ts'
import { evenHall } from '../../../../../src/engine/scene/hall-terms.ts'
import { loadSolvedRig } from '../../../../../src/engine/scene/solved-gear.ts'

const c = makeAir().speedOfSoundMps
const rig: Rig = JSON.parse(
  readFileSync(join(import.meta.dirname, '../../../../../content/gear/top-over-sub.json'), 'utf8'),
)
await loadSolvedRig(rig)

const counts: Record<Arrangement, number> = { pair: 2, trio: 3, 'end-fire': 3, row: 3, 'left-right': 2 }
const bands = [
  { fromHz: 30, toHz: 60 },
  { fromHz: 40, toHz: 100 },
  { fromHz: 80, toHz: 160 },
]
const outdoors: SteerSurroundings = { kind: 'outdoors', floor: 'hard' }
const wall: SteerSurroundings = { kind: 'wall', gapM: 4, floor: 'hard' }
const hall: SteerSurroundings = { kind: 'hall', design: evenHall({ lengthM: 12, widthM: 9, heightM: 4 }, 0.25) }

function ask(
  arrangement: Arrangement,
  surroundings: SteerSurroundings,
  band: SteerQuestion['band'],
  change: Partial<SteerQuestion> = {},
): SteerQuestion {
  const point = change.point ?? false
  return {
    rig,
    point,
    set: textbookSet(arrangement, counts[arrangement], band, sizeOf({ rig, point }), c),
    surroundings,
    front: { xM: 0.5, zM: 4 },
    behind: { xM: 1.6, zM: surroundings.kind === 'hall' ? -2.6 : -4 },
    band,
    frequencyHz: 63,
    error: 'none',
    ...change,
  }
}

function search(question: SteerQuestion, order: 'forward' | 'backward' = 'forward'): SteerSuggestion {
  const plan = steerSearchPlan(question)
  const candidates = (order === 'forward' ? plan : plan.toReversed()).map((step) => steerSearchStep(step))
  return steerSuggestion({ ...question, candidates })
}

const found = new Map<string, SteerSuggestion>()
/** What a search says, made once. */
function suggestionFor(question: SteerQuestion): SteerSuggestion {
  const key = JSON.stringify(question)
  const known = found.get(key) ?? search(question)
  found.set(key, known)
  return known
}

/** What every suggestion must keep. */
function expectSound(question: SteerQuestion, { textbook, best, helps, tried }: SteerSuggestion): void {
  expect(best.merits.rejectionDb).toBeGreaterThanOrEqual(textbook.merits.rejectionDb)
  expect(best.merits.frontLossDb).toBeLessThanOrEqual(
    Math.max(usableRule.frontLossDb, textbook.merits.frontLossDb) + 1e-9,
  )
  expect(helps).toBe(best.merits.rejectionDb >= usableRule.rejectionDb)
  expect(tried).toBeGreaterThan(1)
  for (const { set, merits } of [textbook, best]) {
    expect(steerProblem({ ...question, set })).toBeNull()
    // The table, the curves and the search speak of the same figures.
    const answer = steerAnswer({ ...question, error: 'none', set })
    expect(answer.merits.rejectionDb).toBeCloseTo(merits.rejectionDb, 9)
    expect(answer.merits.frontLossDb).toBeCloseTo(merits.frontLossDb, 9)
    expect(answer.merits.usable).toEqual(merits.usable)
  }
}

describe('a suggestion never rejects less than the books’ setting in the reader’s band', () => {
  for (const [where, surroundings, asked] of [
    ['outdoors', outdoors, bands],
    ['before a wall', wall, bands.slice(1, 2)],
  ] as const) {
    for (const arrangement of arrangements) {
      test.each(asked)(`${arrangement} ${where}, $fromHz to $toHz Hz`, (band) => {
        const question = ask(arrangement, surroundings, band)
        expectSound(question, suggestionFor(question))
      })
    }
  }

  test.each(arrangements)('%s of points', (arrangement) => {
    const question = ask(arrangement, outdoors, bands[1] as SteerQuestion['band'], { point: true })
    expectSound(question, suggestionFor(question))
  })

  test.each(['pair', 'left-right'] as const)(
    '%s in a hall',
    (arrangement) => {
      const question = ask(arrangement, hall, { fromHz: 45, toHz: 56 })
      expectSound(question, suggestionFor(question))
    },
    120_000,
  )
})

describe('a suggestion', () => {
  const question = ask('pair', outdoors, { fromHz: 40, toHz: 100 })

  test('is the same every time, in whatever order the answers arrive', () => {
    expect(search(question)).toEqual(suggestionFor(question))
    const backward = search(question, 'backward')
    expect(backward).toEqual(suggestionFor(question))
  })

  test('does not hang on the delay, polarity, level, spacing or error that the reader has set', () => {
    const elsewhere = {
      ...question,
      error: 'late',
      set: { ...question.set, spacingM: 0.1, delayS: 0.02, inverted: false, levelDb: -6 },
    } as const
    expect(search(elsewhere)).toEqual(suggestionFor(question))
  })

  test('beats the books by a lot for a pair outdoors, where the rear box is farther from the front than from the table', () => {
    const { textbook, best } = suggestionFor(question)
    expect(best.merits.rejectionDb).toBeGreaterThan(textbook.merits.rejectionDb + 6)
  })

  test('says that nothing helps: left and right outdoors, and a row', () => {
    for (const arrangement of ['left-right', 'row'] as const) {
      const { helps, best } = search(
        ask(arrangement, outdoors, { fromHz: 40, toHz: 100 }, { behind: { xM: 0, zM: -4 } }),
      )
      expect(helps).toBe(false)
      expect(best.merits.rejectionDb).toBeLessThan(usableRule.rejectionDb)
    }
  })

  test('without a search it is the books’ setting', () => {
    const { textbook, best, tried } = steerSuggestion({ ...question, candidates: [] })
    expect(best).toEqual(textbook)
    expect(tried).toBe(1)
  })

  test('counts a louder box as lost: the set is as loud as its loudest box allows', () => {
    for (const arrangement of arrangements) {
      const one = ask(arrangement, outdoors, { fromHz: 40, toHz: 100 })
      const { best, textbook } = suggestionFor(one)
      const lossDb = best.merits.frontLossDb
      expect(lossDb).toBeLessThanOrEqual(Math.max(usableRule.frontLossDb, textbook.merits.frontLossDb) + 1e-9)
    }
  })
})

describe('the plan of a search', () => {
  test('goes from what the boxes need to half a wavelength at the low end, at most 3 m', () => {
    const spacings = steerSearchPlan(ask('pair', outdoors, { fromHz: 80, toHz: 160 })).map(({ set }) => set.spacingM)
    expect(spacings[0]).toBe(0.7)
    expect(spacings.at(-1)).toBeCloseTo(2.1, 9)
    expect(spacings.at(-1)).toBeLessThanOrEqual(c / 160)
    const low = steerSearchPlan(ask('pair', outdoors, { fromHz: 30, toHz: 60 }, { behind: { xM: 0, zM: -6 } }))
    expect(low.at(-1)?.set.spacingM).toBe(3)
  })

  test('leaves out spacings at which a box would stand in a place or outside a hall', () => {
    // The table 1.6 m to the side and 4 m back is clear of every pair; straight behind it is not.
    const near = steerSearchPlan(ask('pair', outdoors, { fromHz: 30, toHz: 60 }, { behind: { xM: 0, zM: -3 } }))
    expect(near.length).toBeGreaterThan(5)
    for (const step of near) expect(steerProblem(step)).toBeNull()
    // A sub is 0.66 m deep: its rear one would stand round the table 3 m back.
    expect(near.filter(({ set }) => set.spacingM > 2.34 && set.spacingM < 3)).toEqual([])
    const wide = steerSearchPlan(ask('left-right', hall, { fromHz: 50, toHz: 52 }))
    expect(wide.at(-1)?.set.spacingM).toBeLessThanOrEqual(9 - 0.56)
  })

  test('in a hall is short enough for seconds, and has the same ends', () => {
    const question = ask(
      'end-fire',
      hall,
      { fromHz: 30, toHz: 160 },
      { set: { ...ask('end-fire', hall, { fromHz: 30, toHz: 160 }).set, count: 2 } },
    )
    const steps = steerSearchPlan(question)
    const everywhere = steerSearchPlan({ ...question, surroundings: outdoors })
    expect(steps.length).toBeGreaterThanOrEqual(4)
    expect(steps.length).toBeLessThan(everywhere.length)
    expect(steps[0]?.set.spacingM).toBe(everywhere[0]?.set.spacingM)
  }, 60_000)

  test('carries the rig with every step, which fetches its tables', () => {
    for (const step of steerSearchPlan(ask('trio', outdoors, { fromHz: 40, toHz: 100 }))) expect(step.rig).toEqual(rig)
  })
})

describe('bad input', () => {
  test('where nothing fits it says so', () => {
    const small = { kind: 'hall', design: evenHall({ lengthM: 8, widthM: 7, heightM: 3 }, 0.2) } as const
    const line = ask('end-fire', small, { fromHz: 40, toHz: 100 })
    const six = { ...line, set: { ...line.set, count: 6 } }
    expect(() => steerSearchPlan(six)).toThrow(/no setting of these boxes fits there/)
    expect(() => steerSuggestion({ ...six, candidates: [] })).toThrow(RangeError)
  })

  test('a step that does not fit is refused', () => {
    const [step] = steerSearchPlan(ask('pair', outdoors, { fromHz: 80, toHz: 160 }))
    if (!step) throw new Error('the plan is empty')
    expect(() => steerSearchStep({ ...step, set: { ...step.set, spacingM: 0.4 } })).toThrow(/does not fit \(overlap\)/)
    expect(() => steerSearchStep({ ...step, mostFrontLossDb: Number.NaN })).toThrow(/mostFrontLossDb is NaN/)
  })

  test('settings that are tried stay within what the reader may set', () => {
    const { best } = suggestionFor(ask('end-fire', outdoors, { fromHz: 30, toHz: 60 }))
    expect(best.set.delayS).toBeLessThanOrEqual(steerRange.delayS.max)
    expect(best.set.levelDb).toBeLessThanOrEqual(steerRange.levelDb.max)
  })
})
