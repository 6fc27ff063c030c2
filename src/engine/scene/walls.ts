import { type Air, flowResistivityPaSM2, groundReflection, octaveTable, type Wall } from '../../acoustics/index.ts'
import { type Finish, finishOf } from './finishes.ts'
import type { Floor } from './surroundings.ts'

const absorptionOf = (name: string) => {
  const { frequenciesHz, absorption } = finishOf(name)
  return octaveTable(frequenciesHz, absorption)
}

/** What grass throws back. */
export const grassReflection = (air: Air) => groundReflection(flowResistivityPaSM2.grass, air)

/** Where walls and floor are, m: z of the wall behind, x of the one to the right; what is left out is not there. */
export type WallPlaces = { behindZM?: number | null; sideXM?: number | null; floor?: Floor; finish?: Finish }

/** The walls and the floor in an air, the one behind first, if it is there. Throws RangeError for an unknown finish. */
export function wallsAt({ behindZM, sideXM, floor, finish }: WallPlaces, air: Air): Wall[] {
  const walls: Wall[] = []
  const absorption = finish ? absorptionOf(finish) : () => 0
  if (typeof behindZM === 'number') {
    walls.push({ point: { xM: 0, yM: 0, zM: behindZM }, normal: { xM: 0, yM: 0, zM: 1 }, absorption })
  }
  if (floor) {
    const plane = { point: { xM: 0, yM: 0, zM: 0 }, normal: { xM: 0, yM: 1, zM: 0 } }
    if (floor === 'grass') walls.push({ ...plane, reflection: grassReflection(air) })
    else walls.push({ ...plane, absorption: floor === 'hard' ? () => 0 : absorptionOf('concrete-floor') })
  }
  if (typeof sideXM === 'number') {
    walls.push({ point: { xM: sideXM, yM: 0, zM: 0 }, normal: { xM: -1, yM: 0, zM: 0 }, absorption })
  }
  return walls
}
