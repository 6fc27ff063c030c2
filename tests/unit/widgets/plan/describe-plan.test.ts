import { describe, expect, test } from 'vitest'
import type { PlaceAnswer, PlanAnswer } from '../../../../src/engine/questions/plan/plan-terms.ts'
import type { Plan } from '../../../../src/state/plan-schema.ts'
import { clientSentences, placeRows, planFinding, planSentence } from '../../../../src/widgets/plan/describe-plan.ts'
import { smallPlan } from '../../state/plan-samples.ts'

/** A plan of places with these names, of which the first is the main one, and an answer with their differences from it. */
function planOf(...told: [name: string, bassDb: number, trebleDb: number][]): [PlanAnswer, Plan] {
  const ids = told.map((_, index) => `p${index + 1}`)
  const places = told.map(
    ([, bassDb, trebleDb], index): PlaceAnswer => ({
      id: ids[index] as string,
      levelsDb: [],
      bassDb: 90 + bassDb,
      middleDb: 90,
      trebleDb: 90 + trebleDb,
      aWeightedDb: 95,
      cWeightedDb: 100,
      reMain: { bassDb, middleDb: 0, trebleDb, aWeightedDb: 0 },
      exposure: { levelDbA: 95, hours: 0.8 },
      heard: null,
      dips: [{ frequencyHz: 62, depthDb: 9, cause: { kind: 'surface', surface: 'floor' } }],
    }),
  )
  const plan: Plan = {
    ...smallPlan,
    places: told.map(([name], index) => ({ id: ids[index] as string, name, xM: 0, zM: 9, earM: 1.6 })),
    mainPlace: 'p1',
    neighbour: null,
  }
  return [{ places, liftDb: 0, joiningHz: null }, plan]
}
const main: [string, number, number] = ['Floor', 0, 0]

describe('what is said of a plan', () => {
  test.each([
    ['the bass is kept', ['Table', 1, -5], 'Table keeps the bass and loses treble', 'because treble is missing'],
    ['both fall, the treble more', ['Back', -7, -39], 'Back loses more treble than bass', 'more treble is missing'],
    ['there really is more bass', ['Bar', 3, 0], 'Bar really has more bass', 'There really is more bass there.'],
    ['the bass falls more', ['Bar', -8, -5], 'Bar loses more bass than treble', 'more bass is missing than treble'],
    ['all of it is quieter', ['Bar', -6, -7], 'change alike', 'All of it is quieter there.'],
    ['nothing differs', ['Bar', -1, 0], 'change alike', 'Bar has bass and treble much as Floor has.'],
  ] as [string, [string, number, number], string, string][])('%s', (_, place, finding, told) => {
    const [answer, plan] = planOf(main, place)
    expect(planFinding(answer, plan)).toContain(finding)
    expect(clientSentences(answer, plan, undefined)[0]).toContain(told)
  })

  test('a place with really more bass is told to the client beside the dullest one', () => {
    const [answer, plan] = planOf(main, ['Back', 0, -12], ['Corner', 6, 5], ['Wall', 8, 2], ['Nook', 4, -4])
    expect(planFinding(answer, plan)).toBe('Back keeps the bass and loses treble')
    const sentences = clientSentences(answer, plan, undefined)
    expect(sentences).toHaveLength(4)
    expect(sentences[1]).toBe(
      'Wall against Floor: bass 8 dB louder, treble 2 dB louder. There really is more bass there.',
    )
  })

  test('with one place it is headed by its name, and asks for another', () => {
    const [answer, plan] = planOf(main)
    expect(planFinding(answer, plan)).toBe(plan.name)
    expect(planSentence(answer, plan)).toContain('Floor')
  })

  test('what takes a dip out is the floor in a hall and the ground outdoors', () => {
    const [answer, plan] = planOf(main, ['Table', 0, -4])
    const dips = (of: Plan) => placeRows(answer, of)[0]?.at(-1)
    expect(dips(plan)).toBe('62 Hz: 9 dB, floor')
    const ground = { kind: 'outdoors', lengthM: 30, widthM: 20, ground: 'grass' } as const
    expect(dips({ ...plan, ground })).toBe('62 Hz: 9 dB, ground')
  })
})
