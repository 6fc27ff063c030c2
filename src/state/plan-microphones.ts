import { removePlace } from './plan-edits.ts'
import type { Plan, PlanCabinet, PlanPlace } from './plan-schema.ts'

// The two microphones of a test as places of a plan: they are known by their ids, which no other place has.

export const frontId = 'm1'
export const behindId = 'm2'

/** How far both stand from the front of the box, on its axis, and how high, m. */
export type MicrophonePlaces = { frontM: number; behindM: number; frontHeightM: number; behindHeightM: number }

const grain = (lengthM: number): number => Number(lengthM.toFixed(4)) + 0

/** Where a microphone stands that is so far in front of a box, m; behind it with a minus. */
export function onAxis({ xM, zM, yawDeg }: PlanCabinet, distanceM: number): { xM: number; zM: number } {
  const yawRad = (yawDeg * Math.PI) / 180
  return { xM: grain(xM + distanceM * Math.sin(yawRad)), zM: grain(zM + distanceM * Math.cos(yawRad)) }
}

/** Puts both microphones into a plan, or elsewhere if they stand in it. */
export function placeMicrophones(
  plan: Plan,
  cabinet: PlanCabinet,
  at: MicrophonePlaces,
  names: { front: string; behind: string },
): Plan {
  const { frontM, behindM, frontHeightM, behindHeightM } = at
  const both: PlanPlace[] = [
    { id: frontId, name: names.front, ...onAxis(cabinet, frontM), earM: frontHeightM },
    { id: behindId, name: names.behind, ...onAxis(cabinet, -behindM), earM: behindHeightM },
  ]
  return { ...plan, places: [...plan.places.filter(({ id }) => id !== frontId && id !== behindId), ...both] }
}

/** Takes both away again. */
export const removeMicrophones = (plan: Plan): Plan => removePlace(removePlace(plan, frontId), behindId)
