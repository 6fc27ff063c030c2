import { expect, test } from 'vitest'
import type { PlaceAnswer, PlanAnswer } from '../../../../src/engine/questions/plan/plan-terms.ts'
import * as edits from '../../../../src/state/plan-edits.ts'
import { crowdWords } from '../../../../src/widgets/plan/describe-crowd.ts'
import { smallPlan } from '../../state/plan-samples.ts'

const plan = edits.setCrowd(smallPlan, true)
const answered = (crowds: PlaceAnswer['crowd'][]): PlanAnswer => ({
  liftDb: 0,
  joiningHz: null,
  places: crowds.map((crowd, i) => ({ id: plan.places[i]?.id ?? '', ...(crowd && { crowd }) }) as PlaceAnswer),
})

test('a plan has people before its boxes or nobody, and nobody is not written down', () => {
  expect(plan.crowd).toBe(true)
  expect(edits.setCrowd(plan, false)).toEqual(smallPlan)
})

test('each place is told from which box at which angle, how much is taken, and how much higher would clear', () => {
  const [name = ''] = plan.places.map((place) => place.name)
  const taken = { box: 'c1', elevationDeg: 2.4, lossDb: 7.1, raiseM: 1.02 }
  expect(crowdWords(answered([taken]), plan, 'm')).toEqual([
    `${name}: what comes straight from box 1 passes 2° over their shoulders and loses about 7 dB from 500 Hz up. 1 m higher, the box would lose nothing.`,
  ])
  expect(crowdWords(answered([{ ...taken, elevationDeg: -1, lossDb: 14 }]), plan, 'm')[0]).toContain(
    'goes through them and loses at least 14 dB from 500 Hz up',
  )
})

test('what nobody would hear is not told place by place', () => {
  const little = { box: 'c1', elevationDeg: 7.9, lossDb: 0.1, raiseM: 0.01 }
  expect(crowdWords(answered([little, undefined]), plan, 'm')).toEqual([
    'To every place sound passes 8° or more over their shoulders, or nobody is in its way: it loses nothing.',
  ])
})
