import type { Rig } from '../../acoustics/index.ts'
import { plainWords } from '../../state/plain-words.ts'
import { type Plan, type PlanOwnBox, plainBox } from '../../state/plan-schema.ts'
import type { SavedRig } from '../../state/saved-rigs.ts'
import * as say from './plan.messages.ts'

// Boxes of the reader's own in a plan: each cabinet of a kept rig is on offer, and what stands in a plan stands there with its design.

/** A box on offer, as a plan would hold it. */
export type OwnOffer = PlanOwnBox

const longestName = 80

/** Every cabinet of the reader's rigs. */
export const ownOffers = (rigs: readonly SavedRig[]): OwnOffer[] =>
  rigs.flatMap(({ key, name, rig: { cabinets } }) =>
    cabinets.map(({ frontCentre: _, yawRad: __, ...box }) => {
      const part = cabinets.length > 1 ? `${name}: ${box.label ?? box.name}` : name
      return plainBox({ ...box, key: `${key}/${box.name}`, name: plainWords(say.myBox({ name: part }), longestName) })
    }),
  )

/** What a box is, without how it is called. */
const designOf = ({ key: _, name: __, label: ___, ...design }: PlanOwnBox): string => JSON.stringify(design)

/** The box as this plan holds it: the one of its design that is there already, or under a key that no other design has. */
export function boxForPlan({ ownBoxes }: Pick<Plan, 'ownBoxes'>, offer: OwnOffer): PlanOwnBox {
  const there = ownBoxes.find((box) => designOf(box) === designOf(offer))
  if (there) return there
  let { key } = offer
  for (let count = 2; ownBoxes.some((box) => box.key === key); count++) key = `${offer.key}-${count}`
  return { ...offer, key }
}

/** The own boxes that stand in a plan, as one rig to be solved; undefined without any. Where they stand and how they are called does not count. */
export function rigToSolve({ ownBoxes, cabinets }: Pick<Plan, 'ownBoxes' | 'cabinets'>): Rig | undefined {
  const standing = ownBoxes.filter(({ key }) => cabinets.some(({ box }) => box === key))
  if (standing.length === 0) return undefined
  return {
    name: 'own boxes of a plan',
    cabinets: standing.map(({ key: _, name: __, label: ___, ...box }, index) => ({
      ...(box as Omit<Rig['cabinets'][number], 'name' | 'frontCentre'>),
      name: String(index + 1),
      frontCentre: { xM: 10 * index, yM: box.heightM / 2, zM: 0 },
    })),
  }
}
