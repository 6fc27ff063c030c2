import { delayOfSpacingS } from '../../engine/questions/steer/textbook-set.ts'
import { airOf } from '../../engine/scene/air.ts'
import * as edits from '../../state/plan-edits.ts'
import { planFaults } from '../../state/plan-faults.ts'
import { mostCabinets, type Plan, type PlanCabinet, type PlanKnown } from '../../state/plan-schema.ts'
import type { SiteAir } from '../../state/site-air.ts'
import type { OfferedBox } from './plan-question.ts'

// Changes that may leave less bass at a place, made from the plan at hand; whether they do is computed.

/** What a move is, for the words about it: a case of a message and its number. */
export type PlanMove = {
  kind: 'forward' | 'together' | 'apart' | 'turnTops' | 'turnSubs' | 'pair' | 'addRear' | 'lower' | 'place' | 'raise'
  /** m for lengths, degrees for angles, dB for levels. */
  amount: number
  plan: Plan
}

/** Above this a way is no bass, Hz. */
const subToHz = 250

const grain = (value: number) => Math.round(20 * value) / 20

type Model = Pick<OfferedBox['model'], 'ways' | 'widthM' | 'depthM'>

/** Changes cabinets of some kind, one by one. */
const each = (
  plan: Plan,
  which: readonly PlanCabinet[],
  change: (cabinet: PlanCabinet) => Partial<PlanCabinet>,
): Plan => which.reduce((now, cabinet) => edits.changeCabinet(now, cabinet.id, change(cabinet)), plan)

/**
 * The moves that a plan allows: each leaves a sound plan, and none is the plan as it is.
 *
 * @param placeId  where there is to be less bass
 * @param air      gives the delay of a pair
 */
export function planMoves(
  plan: Plan,
  boxes: readonly OfferedBox[],
  known: PlanKnown,
  placeId: string,
  air?: SiteAir,
): PlanMove[] {
  const modelOf = ({ box }: PlanCabinet): Model | undefined =>
    boxes.find(({ key }) => key === box)?.model ?? (plan.ownBoxes.find(({ key }) => key === box) as Model | undefined)
  const isSub = (cabinet: PlanCabinet): boolean => {
    const model = modelOf(cabinet)
    return model?.ways.every(({ lowPass }) => (lowPass?.frequencyHz ?? Infinity) <= subToHz) ?? false
  }
  const subs = plan.cabinets.filter(isSub)
  const tops = plan.cabinets.filter((cabinet) => !isSub(cabinet))
  const place = plan.places.find(({ id }) => id === placeId)
  const main = plan.places.find(({ id }) => id === plan.mainPlace)
  const moves: PlanMove[] = []
  for (const amount of [-1, -0.5, 0.5, 1, 2])
    moves.push({ kind: 'forward', amount, plan: each(plan, plan.cabinets, ({ zM }) => ({ zM: grain(zM + amount) })) })
  for (const amount of [-6, -3])
    moves.push({ kind: 'lower', amount, plan: each(plan, subs, ({ levelDb }) => ({ levelDb: levelDb + amount })) })
  moves.push({ kind: 'turnSubs', amount: 180, plan: each(plan, subs, turned(modelOf)) })
  for (const amount of [0.3, 0.6])
    moves.push({ kind: 'raise', amount, plan: each(plan, tops, ({ baseM }) => ({ baseM: grain(baseM + amount) })) })
  if (main) {
    const toMain = ({ xM, zM }: PlanCabinet) => ({
      yawDeg: Math.round((180 / Math.PI) * Math.atan2(main.xM - xM, main.zM - zM)),
    })
    moves.push({ kind: 'turnTops', amount: 0, plan: each(plan, tops, toMain) })
  }
  moves.push(...spacings(plan, subs, modelOf), ...pairs(plan, subs, modelOf, air))
  if (place && placeId !== plan.mainPlace) {
    for (const [xM, zM] of [
      [-3, 0],
      [3, 0],
      [-6, 0],
      [6, 0],
      [0, 2],
    ] as const) {
      const to = { xM: grain(place.xM + xM), zM: grain(place.zM + zM) }
      moves.push({ kind: 'place', amount: Math.hypot(xM, zM), plan: edits.movePlace(plan, placeId, to) })
    }
  }
  const now = JSON.stringify(plan)
  return moves.filter((move) => JSON.stringify(move.plan) !== now && planFaults(move.plan, known).length === 0)
}

/** A box turned round where it stands: its face is then where its back was. */
const turned = (modelOf: (cabinet: PlanCabinet) => Model | undefined) => (cabinet: PlanCabinet) => {
  const depthM = modelOf(cabinet)?.depthM ?? 0
  const yawRad = (cabinet.yawDeg * Math.PI) / 180
  return {
    yawDeg: cabinet.yawDeg > 0 ? cabinet.yawDeg - 180 : cabinet.yawDeg + 180,
    xM: grain(cabinet.xM - depthM * Math.sin(yawRad)),
    zM: grain(cabinet.zM - depthM * Math.cos(yawRad)),
  }
}

/** All subs side by side where they are on average, and twice as far apart. */
function spacings(plan: Plan, subs: PlanCabinet[], modelOf: (cabinet: PlanCabinet) => Model | undefined): PlanMove[] {
  if (subs.length < 2) return []
  const middleM = subs.reduce((sum, { xM }) => sum + xM, 0) / subs.length
  const widthM = Math.max(...subs.map((sub) => modelOf(sub)?.widthM ?? 0)) + 0.04
  const inOrder = [...subs].sort((a, b) => a.xM - b.xM)
  const beside = (sub: PlanCabinet) => middleM + (inOrder.indexOf(sub) - (subs.length - 1) / 2) * widthM
  return [
    { kind: 'together', amount: 0, plan: each(plan, subs, (sub) => ({ xM: grain(beside(sub)), group: '' })) },
    {
      kind: 'apart',
      amount: 2,
      plan: each(plan, subs, ({ xM }) => ({ xM: grain(middleM + 2 * (xM - middleM)), group: '' })),
    },
  ]
}

/** How far behind the other one the second box of a pair has its face, m: about a quarter of a wave at 90 Hz, and more than a sub is deep. */
const pairM = 0.95

/** What the rear box of a pair has: its face so far behind the front one's, inverted, and late by the way between them. */
function rearOf(front: PlanCabinet, air: SiteAir | undefined): Omit<PlanCabinet, 'id'> {
  const { id: _, ...like } = front
  const yawRad = (front.yawDeg * Math.PI) / 180
  return {
    ...like,
    xM: grain(front.xM - pairM * Math.sin(yawRad)),
    zM: grain(front.zM - pairM * Math.cos(yawRad)),
    delayMs: Number((front.delayMs + 1000 * delayOfSpacingS(pairM, airOf(air).speedOfSoundMps)).toFixed(2)),
    inverted: !front.inverted,
  }
}

/** Two subs behind each other, out of those that there are; and one more behind each. */
function pairs(
  plan: Plan,
  subs: PlanCabinet[],
  modelOf: (cabinet: PlanCabinet) => Model | undefined,
  air: SiteAir | undefined,
): PlanMove[] {
  const fitting = subs.filter((sub) => (modelOf(sub)?.depthM ?? 1) < pairM)
  const moved = fitting.flatMap((front): PlanMove[] => {
    const rear = subs.find(({ id, box }) => id !== front.id && box === front.box)
    if (!rear) return []
    return [{ kind: 'pair', amount: pairM, plan: edits.changeCabinet(plan, rear.id, rearOf(front, air)) }]
  })
  if (fitting.length === 0 || plan.cabinets.length + fitting.length > mostCabinets) return moved
  const added = fitting.reduce((now, front) => edits.addCabinet(now, rearOf(front, air)), plan)
  return [...moved, { kind: 'addRear', amount: pairM, plan: added }]
}
