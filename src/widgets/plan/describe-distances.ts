import { cabinetNumber } from '../../state/plan-faults.ts'
import type { Plan } from '../../state/plan-schema.ts'
import { floorSpots } from '../../state/plan-spots.ts'
import type { LengthUnit } from '../../state/preferences.ts'
import { tapeText } from '../../words/lengths.ts'
import * as say from './dimensions.messages.ts'

// How far every place is from every box, to be measured with a tape over the floor: from the middle of the box's front.

/** The place, then each spot where boxes stand, by their numbers. */
export const distanceColumns = (plan: Plan): string[] => [
  say.columnPlace(),
  ...floorSpots(plan).map(({ ids }) =>
    say.columnBoxes({ numbers: ids.map((id) => cabinetNumber(plan, id)).join(', ') }),
  ),
]

export const distanceRows = (plan: Plan, units: LengthUnit): string[][] =>
  plan.places.map(({ name, xM, zM }) => [
    name,
    ...floorSpots(plan).map((spot) => tapeText(Math.hypot(spot.xM - xM, spot.zM - zM), units)),
  ])
