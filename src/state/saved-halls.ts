import * as v from 'valibot'
import { savedHallsKey } from './kept-list-change.ts'
import { type OwnThing, ownList } from './own-list.ts'
import { groundSchema, mostPlaces, type Plan, planRange } from './plan-schema.ts'
import * as say from './saved-halls.messages.ts'

// Halls of the reader's own, or ground in the open: made in a plan, kept on the device, and on offer in the figures.

const between = ({ min, max }: { min: number; max: number }) =>
  v.pipe(v.number(), v.finite(), v.minValue(min), v.maxValue(max))
const point = { xM: between(planRange.xM), zM: between(planRange.zM) }

/** A hall as it is kept and as it travels: what it is made of, where a rig stands in it, and its places, the main one first. */
export const ownHallSchema = v.strictObject({
  ground: groundSchema,
  rigAt: v.strictObject(point),
  places: v.pipe(
    v.array(v.strictObject({ name: v.pipe(v.string(), v.minLength(1), v.maxLength(40)), ...point })),
    v.maxLength(mostPlaces),
  ),
})
export type OwnHall = v.InferOutput<typeof ownHallSchema>

/** A hall that the reader keeps on this device. */
export type SavedHall = OwnThing<'hall', OwnHall>

export const savedHalls = ownList({
  storageKey: savedHallsKey,
  list: 'halls',
  part: 'hall',
  value: ownHallSchema,
  version: 1,
  most: 30,
  say: {
    enough: say.enough,
    notSaved: say.notSaved,
    newerSite: say.newerSite,
    unreadable: say.unreadable,
    someUnread: say.someUnread,
    noList: say.noList,
    nothingKept: say.nothingKept,
    notKept: say.notKept,
    noRoom: say.noRoom,
  },
})

/** How near a rig of the figures stands to a wall at least: room for a stack with its back to it, m. */
const offWallM = { along: 0.8, behind: 1.2, ahead: 2 }

/**
 * The hall of a plan: a rig stands where its first box does, in a hall as near as there is room for a stack; the places are the plan's,
 * the main one first.
 */
export function hallOfPlan({ ground, cabinets, places, mainPlace }: Plan): OwnHall {
  const first = cabinets[0] ?? { xM: 0, zM: ground.lengthM / 4 }
  const within = (value: number, min: number, max: number) =>
    Number((min > max ? (min + max) / 2 : Math.min(max, Math.max(min, value))).toFixed(4))
  const asideM = ground.widthM / 2 - offWallM.along
  const rigAt =
    ground.kind === 'hall'
      ? {
          xM: within(first.xM, -asideM, asideM),
          zM: within(first.zM, offWallM.behind, ground.lengthM - offWallM.ahead),
        }
      : { xM: first.xM, zM: first.zM }
  const inOrder = [...places].sort((a, b) => Number(b.id === mainPlace) - Number(a.id === mainPlace))
  return { ground, rigAt, places: inOrder.map(({ name, xM, zM }) => ({ name, xM, zM })) }
}
