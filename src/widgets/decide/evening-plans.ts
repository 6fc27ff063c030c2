import { delayOfSpacingS } from '../../engine/questions/steer/textbook-set.ts'
import { airOf } from '../../engine/scene/air.ts'
import * as edits from '../../state/plan-edits.ts'
import type { Plan } from '../../state/plan-schema.ts'
import { grangePlan } from '../plan/grange-plan.ts'

// The evening at the Grange, decided step by step: what the crew would have set up without thinking, and what becomes of it.

/** What is decided, in order; each keeps what was decided before. */
export const eveningSteps = ['usual', 'table', 'wall', 'subs', 'aim', 'steer', 'level'] as const
export type EveningStep = (typeof eveningSteps)[number]

/** What the lesson's guess chooses from, each instead of the usual and by itself. */
export const setUps = ['down', 'pair', 'table'] as const
export type SetUp = (typeof setUps)[number]

/** The places that the lesson speaks of, and the boxes of the plan: tops over subs, left and right. */
export const eveningIds = { floor: 'p1', table: 'p2', band: 'p3' } as const
const tops = { left: 'c1', right: 'c3' } as const
const subs = { left: 'c2', right: 'c4' } as const

/** The auction tables: behind the middle of the stage, and farther to the left along the same wall, m. */
export const tableXM = { usual: 1.3, moved: -2 } as const
/** How far the rig goes forward, m. */
export const forwardM = 1.5
/** The subs in front of the middle of the stage, side by side with a hand between, and one behind the other, front to front, m. */
const stageMiddleM = 1.3
const subsAheadM = 5.5
const besideM = 0.6
export const pairM = 0.95
/** How far the tops are turned in, degrees; how far the subs go up in the end, and down in the guess, dB. */
export const inwardDeg = 20
export const upDb = 1
export const downDb = 6

const both = (
  plan: Plan,
  ids: { left: string; right: string },
  change: (side: -1 | 1) => Parameters<typeof edits.changeCabinet>[2],
) => edits.changeCabinet(edits.changeCabinet(plan, ids.left, change(-1)), ids.right, change(1))

const tableTo = (plan: Plan, xM: number): Plan => edits.changePlace(plan, eveningIds.table, { xM })

/** Two subs on the spot, the second behind the first, late by the way between them and inverted: in the usual air, as it is written on a sheet. */
const asPair = (plan: Plan): Plan => {
  const front = edits.changeCabinet(plan, subs.left, { xM: stageMiddleM, zM: subsAheadM, group: '' })
  return edits.changeCabinet(front, subs.right, {
    xM: stageMiddleM,
    zM: Number((subsAheadM - pairM).toFixed(2)),
    delayMs: Number((1000 * delayOfSpacingS(pairM, airOf().speedOfSoundMps)).toFixed(2)),
    inverted: true,
    group: '',
  })
}

const decide: Record<EveningStep, (plan: Plan) => Plan> = {
  usual: (plan) => tableTo(plan, tableXM.usual),
  table: (plan) => tableTo(plan, tableXM.moved),
  wall: (plan) => plan.cabinets.reduce((now, { id, zM }) => edits.changeCabinet(now, id, { zM: zM + forwardM }), plan),
  subs: (plan) => both(plan, subs, (side) => ({ xM: stageMiddleM + (side * besideM) / 2, zM: subsAheadM, group: '' })),
  aim: (plan) => both(plan, tops, (side) => ({ yawDeg: -side * inwardDeg, group: '' })),
  steer: asPair,
  level: (plan) => both(plan, subs, () => ({ levelDb: upDb })),
}

/** The plan after each step. */
export function eveningPlans(): Record<EveningStep, Plan> {
  let plan = grangePlan()
  return Object.fromEntries(
    eveningSteps.map((step) => {
      plan = decide[step](plan)
      return [step, plan]
    }),
  ) as Record<EveningStep, Plan>
}

/** The usual plan with one change. */
export function setUpPlans(): Record<SetUp, Plan> {
  const { usual } = eveningPlans()
  return {
    down: both(usual, subs, () => ({ levelDb: -downDb })),
    pair: asPair(usual),
    table: tableTo(usual, tableXM.moved),
  }
}
