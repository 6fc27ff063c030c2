import type { Plan } from './plan-schema.ts'

/** A spot on the floor where boxes stand, one on the other: the middle of their fronts, and which they are. */
export type FloorSpot = { xM: number; zM: number; ids: string[] }

/** Where a plan's boxes stand, in their order; boxes with the same place on the plan are one spot. */
export function floorSpots({ cabinets }: Pick<Plan, 'cabinets'>): FloorSpot[] {
  const spots: FloorSpot[] = []
  for (const { id, xM, zM } of cabinets) {
    const known = spots.find((spot) => spot.xM === xM && spot.zM === zM)
    if (known) known.ids.push(id)
    else spots.push({ xM, zM, ids: [id] })
  }
  return spots
}
