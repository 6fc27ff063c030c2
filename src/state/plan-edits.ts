import type { Plan, PlanCabinet, PlanGround, PlanNeighbour, PlanOwnBox, PlanPlace, PlanStage } from './plan-schema.ts'

// Every change of a plan: a pure function from one plan to the next. What is not touched is shared between the two.

/** The id that no cabinet or place of a plan has yet: a letter and a number. */
export function freshId(plan: Plan, letter: 'c' | 'p'): string {
  const taken = (letter === 'c' ? plan.cabinets : plan.places).map(({ id }) => Number(id.slice(1)))
  return `${letter}${Math.max(0, ...taken) + 1}`
}

/** Lengths are kept to a tenth of a millimetre: no digits that only binary fractions add. */
const grain = (lengthM: number): number => Number(lengthM.toFixed(4)) + 0

const byId = <T extends { id: string }>(list: readonly T[], id: string, change: (item: T) => T): T[] =>
  list.map((item) => (item.id === id ? change(item) : item))

/** Changes one cabinet; nothing happens for an id that is not there. */
export const changeCabinet = (plan: Plan, id: string, change: Partial<Omit<PlanCabinet, 'id'>>): Plan => ({
  ...plan,
  cabinets: byId(plan.cabinets, id, (cabinet) => ({ ...cabinet, ...change })),
})

/** Puts a cabinet somewhere else on the plan; its group goes with it. */
export function moveCabinet(plan: Plan, id: string, to: { xM: number; zM: number }): Plan {
  const moved = plan.cabinets.find((cabinet) => cabinet.id === id)
  if (!moved) return plan
  const [byXM, byZM] = [to.xM - moved.xM, to.zM - moved.zM]
  const goes = ({ id: each, group }: PlanCabinet) => each === id || (group !== '' && group === moved.group)
  return {
    ...plan,
    cabinets: plan.cabinets.map((cabinet) =>
      goes(cabinet) ? { ...cabinet, xM: grain(cabinet.xM + byXM), zM: grain(cabinet.zM + byZM) } : cabinet,
    ),
  }
}

/** Adds a cabinet, and the reader's own box that it is, if the plan does not have that yet. */
export function addCabinet(plan: Plan, cabinet: Omit<PlanCabinet, 'id'>, ownBox?: PlanOwnBox): Plan {
  const has = ownBox === undefined || plan.ownBoxes.some(({ key }) => key === ownBox.key)
  return {
    ...plan,
    cabinets: [...plan.cabinets, { ...cabinet, id: freshId(plan, 'c') }],
    ownBoxes: has ? plan.ownBoxes : [...plan.ownBoxes, ownBox],
  }
}

/** The same cabinet once more, its own width and a hand further to the right. */
export function duplicateCabinet(plan: Plan, id: string, asideM: number): Plan {
  const like = plan.cabinets.find((cabinet) => cabinet.id === id)
  if (!like) return plan
  const { id: _id, ...rest } = like
  return addCabinet(plan, { ...rest, xM: grain(like.xM + asideM), group: '' })
}

/** Takes a cabinet away, and an own box that no other cabinet is. */
export function removeCabinet(plan: Plan, id: string): Plan {
  const cabinets = plan.cabinets.filter((cabinet) => cabinet.id !== id)
  return { ...plan, cabinets, ownBoxes: plan.ownBoxes.filter(({ key }) => cabinets.some(({ box }) => box === key)) }
}

export const changePlace = (plan: Plan, id: string, change: Partial<Omit<PlanPlace, 'id'>>): Plan => ({
  ...plan,
  places: byId(plan.places, id, (place) => ({ ...place, ...change })),
})

export const movePlace = (plan: Plan, id: string, { xM, zM }: { xM: number; zM: number }): Plan =>
  changePlace(plan, id, { xM: grain(xM), zM: grain(zM) })

/** Whether a cabinet is meant by an id, and not a place. */
export const isCabinet = (id: string): boolean => id.startsWith('c')

/**
 * Moves a box or a place as far as it may: along a wall or a box where it is in the way.
 *
 * @param isFree  whether a change can be done
 * @returns       the change; where nothing can, the whole way, so that it is told why not; undefined for an id that is not there
 */
export function slideEdit(
  plan: Plan,
  id: string,
  to: { xM: number; zM: number },
  isFree: (edit: (plan: Plan) => Plan) => boolean,
): ((plan: Plan) => Plan) | undefined {
  const now = (isCabinet(id) ? plan.cabinets : plan.places).find((each) => each.id === id)
  if (!now) return undefined
  const move = isCabinet(id) ? moveCabinet : movePlace
  const ways = [to, { xM: to.xM, zM: now.zM }, { xM: now.xM, zM: to.zM }]
  const edits = ways.map((at) => (from: Plan) => move(from, id, at))
  return edits.find(isFree) ?? edits[0]
}

export const addPlace = (plan: Plan, place: Omit<PlanPlace, 'id'>): Plan => ({
  ...plan,
  places: [...plan.places, { ...place, id: freshId(plan, 'p') }],
})

/** Takes a place away; the last one stays, and when the main place goes the first of the others is it. */
export function removePlace(plan: Plan, id: string): Plan {
  const places = plan.places.filter((place) => place.id !== id)
  const [first] = places
  if (!first) return plan
  return { ...plan, places, mainPlace: plan.mainPlace === id ? first.id : plan.mainPlace }
}

export const setGround = (plan: Plan, ground: PlanGround): Plan => ({ ...plan, ground })
export const setStage = (plan: Plan, stage: PlanStage | null): Plan => ({ ...plan, stage })
/** Puts people before the boxes, or nobody. */
export const setCrowd = ({ crowd: _, ...plan }: Plan, isThere: boolean): Plan =>
  isThere ? { ...plan, crowd: true } : plan
export const setNeighbour = (plan: Plan, neighbour: PlanNeighbour | null): Plan => ({ ...plan, neighbour })

/** Changes what is told about the whole evening. */
export const changePlan = (
  plan: Plan,
  change: Partial<Pick<Plan, 'name' | 'crew' | 'note' | 'mainPlace' | 'programmeDbA'>>,
): Plan => ({ ...plan, ...change })
