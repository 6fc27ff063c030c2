import { globSync, readFileSync } from 'node:fs'
import { describe, expect, test } from 'vitest'
import { steerAnswerInFull } from '../../../../src/engine/questions/steer/solved-set.ts'
import { sizeOf, wallZMOf } from '../../../../src/engine/questions/steer/steer-boxes.ts'
import { steerProblem } from '../../../../src/engine/questions/steer/steer-check.ts'
import { steerFacts } from '../../../../src/engine/questions/steer/steer-facts.ts'
import { textbookSet } from '../../../../src/engine/questions/steer/textbook-set.ts'
import { airOf, usualAir } from '../../../../src/engine/scene/air.ts'
import { demoHallStates } from '../../../../src/engine/scene/hall-content.ts'
import { loadSolvedRig } from '../../../../src/engine/scene/solved-gear.ts'
import { defaultState, readLink, writeLink } from '../../../../src/state/share-link.ts'
import { questionOf, setOf, steerBassLink } from '../../../../src/widgets/steer-bass/steer-bass-link.ts'
import { clampedPlace } from '../../../../src/widgets/steer-bass/steer-plan-places.ts'
import { firstSteerState, type Preset, presetState } from '../../../../src/widgets/steer-bass/steer-preset.ts'
import { steerStillsOf } from '../../../../src/widgets/steer-bass/steer-still.ts'

const rig = JSON.parse(readFileSync('content/gear/top-over-sub.json', 'utf8'))
await loadSolvedRig(rig)
const link = steerBassLink(['top-over-sub'])
const base = defaultState(link)

/** The presets of the lesson, as its MDX writes them. */
const presets = [...readFileSync('content/lessons/more-boxes.mdx', 'utf8').matchAll(/<SteerPreset ([^>]*)>/g)].map(
  ([, attributes = '']) =>
    Object.fromEntries(
      [...attributes.matchAll(/(\w+)(?:="([^"]*)"|=\{(\d*\.?\d+)\})?/g)].map(([, name, text, number]) => [
        name,
        text ?? (number === undefined ? true : Number(number)),
      ]),
    ) as Preset,
)

test('the lesson presets every kind of set but the row', () => {
  expect(presets.length).toBeGreaterThanOrEqual(8)
  expect(new Set(presets.map(({ arrangement }) => arrangement))).toEqual(
    new Set(['pair', 'trio', 'end-fire', 'left-right']),
  )
})

test.each(presets)(
  '$arrangement $count $place: opens as it was written, by the book, with everything where it can stand',
  (preset) => {
    const state = presetState(base, preset, rig, usualAir)
    const read = readLink(link, writeLink(link, state, new URLSearchParams()))
    expect(read.dropped).toEqual([])
    expect(read.state).toEqual(state)
    const book = textbookSet(
      preset.arrangement,
      preset.count ?? state.count,
      { fromHz: 40, toHz: 100 },
      sizeOf({ rig, point: false }),
      airOf(usualAir).speedOfSoundMps,
    )
    const set = setOf(read.state)
    expect(set).toMatchObject({
      arrangement: book.arrangement,
      count: book.count,
      turned: book.turned,
      inverted: book.inverted,
    })
    // The link carries centimetres and tenths of a millisecond.
    expect(Math.abs(set.spacingM - book.spacingM)).toBeLessThanOrEqual(0.005 + 1e-9)
    expect(Math.abs(set.delayS - book.delayS)).toBeLessThanOrEqual(5e-5 + 1e-9)
    expect(steerProblem(questionOf(read.state, rig, demoHallStates))).toBeNull()
  },
)

/** What the figure tells of a preset of the lesson: of the state that its link writes, with the table where the plan puts it. */
function toldOf(wanted: Pick<Preset, 'arrangement' | 'count' | 'place'>) {
  const preset = presets.find(
    ({ arrangement, count, place }) =>
      arrangement === wanted.arrangement && count === wanted.count && place === wanted.place,
  )
  if (!preset) throw new Error(`The lesson has no preset ${JSON.stringify(wanted)}`)
  const written = writeLink(link, presetState(base, preset, rig, usualAir), new URLSearchParams())
  const question = { ...questionOf(readLink(link, written).state, rig, demoHallStates), air: usualAir }
  const { surroundings, set } = question
  const wallZM = wallZMOf(set, sizeOf(question), surroundings)
  const behind = clampedPlace('behind', question.behind, surroundings, set.arrangement, wallZM)
  return steerAnswerInFull({ ...question, behind })
}

describe('what the lesson prints of a set is what the figure tells after its link', () => {
  const facts = steerFacts(rig)
  test.each([
    ['by-pair', { arrangement: 'pair' }],
    ['by-trio', { arrangement: 'trio' }],
    ['by-line-2', { arrangement: 'end-fire', count: 2 }],
    ['by-line-4', { arrangement: 'end-fire', count: 4 }],
  ] as const)('%s', (name, wanted) => {
    const { merits, cost } = toldOf(wanted)
    expect(merits.usable).toEqual({
      fromHz: facts[`${name}-usable-from`].value,
      toHz: facts[`${name}-usable-to`].value,
    })
    expect(merits.rejectionDb).toBeCloseTo(facts[`${name}-rejection`].value, 9)
    expect(merits.frontLossDb).toBeCloseTo(facts[`${name}-loss`].value, 9)
    expect(cost.widthM).toBeCloseTo(facts[`${name}-width`].value, 9)
    expect(cost.depthM).toBeCloseTo(facts[`${name}-depth`].value, 9)
  })
  test('left and right', () => {
    const { merits } = toldOf({ arrangement: 'left-right' })
    expect(merits.rejectionDb).toBeCloseTo(facts['left-right-rejection'].value, 9)
  })
  test('a wall right behind, to the decibel: the plan puts the table to 5 cm', () => {
    const { merits } = toldOf({ arrangement: 'pair', place: 'wall' })
    expect(Math.round(merits.rejectionDb)).toBe(Math.round(facts['rejection-wall-close'].value))
    expect(Math.round(merits.behindCutDb)).toBe(Math.round(facts['cut-wall-close'].value))
    expect(Math.round(merits.frontLossDb)).toBe(Math.round(facts['loss-wall-close'].value))
  })
})

test('a page begins with the pair of the link, if it says nothing else', () => {
  expect(firstSteerState(['top-over-sub'], 'pair', rig)).toEqual(base)
})

/** What the pages set the figure to at first. */
const firsts = globSync('content/**/*.mdx').flatMap((file) =>
  [...readFileSync(file, 'utf8').matchAll(/<SteerBassFigure ([^>]*)\/>/g)].map(([, attributes = '']) => ({
    file,
    arrangement: (/arrangement="([^"]*)"/.exec(attributes)?.[1] ?? 'pair') as (typeof steerStillsOf)[number],
    frontXM: Number(/frontXM=\{([^}]*)\}/.exec(attributes)?.[1] ?? base.frontXM),
  })),
)

test.each(firsts)('$file begins with a set that stands, where nobody has to be moved', ({ arrangement, frontXM }) => {
  expect(steerStillsOf).toContain(arrangement)
  const state = { ...firstSteerState(['top-over-sub'], arrangement, rig), frontXM }
  expect(steerProblem(questionOf(state, rig, demoHallStates))).toBeNull()
  // A figure that has to move somebody would at once show another finding than the page's.
  const front = { xM: state.frontXM, zM: state.frontZM }
  const table = { xM: state.tableXM, zM: state.tableZM }
  const { surroundings } = questionOf(state, rig, demoHallStates)
  expect(clampedPlace('front', front, surroundings, arrangement, null)).toEqual(front)
  expect(clampedPlace('behind', table, surroundings, arrangement, null)).toEqual(table)
})

test('left and right stand apart, in step', () => {
  expect(setOf(firstSteerState(['top-over-sub'], 'left-right', rig))).toMatchObject({
    arrangement: 'left-right',
    count: 2,
    spacingM: 6,
    delayS: 0,
    inverted: false,
    turned: false,
  })
})
