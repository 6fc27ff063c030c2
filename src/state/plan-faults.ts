import { distanceToFootprintM, footprints, type PlanPoint } from '../acoustics/field/footprint.ts'
import * as say from './plan.messages.ts'
import { type BoxSize, mostCabinets, mostOwnBoxes, type Plan, type PlanCabinet, type PlanKnown } from './plan-schema.ts'

// What may be wrong with a plan whose numbers are each allowed: what stands in what, or outside of what.

/** Less than this counts as touching, m. */
const slackM = 1e-6

/** Size of a cabinet's box; undefined for one that nobody knows. */
export function boxSize(plan: Pick<Plan, 'ownBoxes'>, box: string, known: PlanKnown): BoxSize | undefined {
  return known.boxes[box] ?? plan.ownBoxes.find(({ key }) => key === box)
}

/** A cabinet as the acoustics module has its footprint. */
const placed = ({ id, xM, zM, baseM, yawDeg }: PlanCabinet, { widthM, heightM, depthM }: BoxSize) => ({
  name: id,
  widthM,
  heightM,
  depthM,
  frontCentre: { xM, yM: baseM + heightM / 2, zM },
  yawRad: (yawDeg * Math.PI) / 180,
  ways: [],
})

/** The corners of a cabinet on the plan, front left first; none for a box that nobody knows. */
export function cabinetCorners(plan: Plan, cabinet: PlanCabinet, known: PlanKnown): readonly PlanPoint[] {
  const size = boxSize(plan, cabinet.box, known)
  return size ? (footprints({ name: '', cabinets: [placed(cabinet, size)] })[0]?.corners ?? []) : []
}

/** The cabinets of a plan whose boxes are known, as the acoustics module has their footprints. */
export const placedCabinets = (plan: Plan, known: PlanKnown) =>
  plan.cabinets.flatMap((cabinet) => {
    const size = boxSize(plan, cabinet.box, known)
    return size ? [placed(cabinet, size)] : []
  })

/** The cabinets of a plan, the widest first: drawn in this order, a small one on a large one can be seen and taken hold of. */
export function widestFirst(plan: Plan, known: PlanKnown): PlanCabinet[] {
  const area = ({ box }: PlanCabinet) => {
    const size = boxSize(plan, box, known)
    return size ? size.widthM * size.depthM : 0
  }
  return plan.cabinets.toSorted((a, b) => area(b) - area(a))
}

/** How a cabinet is called: its place in the list, from 1. */
export const cabinetNumber = (plan: Plan, id: string): number => plan.cabinets.findIndex((each) => each.id === id) + 1

/**
 * What keeps a plan from being built or computed, one sentence each, in the reader's words; empty for a sound plan.
 *
 * @param known  what a plan may name
 */
export function planFaults(plan: Plan, known: PlanKnown): string[] {
  return [
    ...tooMany(plan),
    ...unknownNames(plan, known),
    ...doubles(plan),
    ...outside(plan, known),
    ...insideBoxes(plan, known),
  ]
}

function tooMany({ cabinets, ownBoxes }: Plan): string[] {
  return [
    ...(cabinets.length > mostCabinets ? [say.tooManyCabinets({ count: cabinets.length, most: mostCabinets })] : []),
    ...(ownBoxes.length > mostOwnBoxes ? [say.tooManyOwnBoxes({ most: mostOwnBoxes })] : []),
  ]
}

function unknownNames({ ground, neighbour, cabinets, ownBoxes }: Plan, known: PlanKnown): string[] {
  const faults: string[] = []
  const need = (name: string, among: readonly string[]) => {
    if (!among.includes(name)) faults.push(say.notKnown({ name, allowed: among.join(', ') }))
  }
  if (ground.kind === 'hall') for (const finish of Object.values(ground.surfaces)) need(finish, known.finishes)
  if (neighbour) for (const part of [neighbour.wall, neighbour.roof, neighbour.door]) need(part, known.partitions)
  const boxes = [...Object.keys(known.boxes), ...ownBoxes.map(({ key }) => key)]
  for (const { box } of cabinets) need(box, boxes)
  return [...new Set(faults)]
}

function doubles({ cabinets, places, mainPlace }: Plan): string[] {
  const ids = [...cabinets, ...places].map(({ id }) => id)
  const twice = ids.find((id, index) => ids.indexOf(id) !== index)
  return [
    ...(twice === undefined ? [] : [say.twice({ id: twice })]),
    ...(places.some(({ id }) => id === mainPlace) ? [] : [say.noMainPlace()]),
  ]
}

function outside(plan: Plan, known: PlanKnown): string[] {
  const { ground, stage, places, cabinets } = plan
  if (ground.kind === 'outdoors') return []
  const isIn = ({ xM, zM }: PlanPoint) =>
    Math.abs(xM) <= ground.widthM / 2 + slackM && zM >= -slackM && zM <= ground.lengthM + slackM
  const faults: string[] = []
  for (const cabinet of cabinets) {
    const size = boxSize(plan, cabinet.box, known)
    if (!size) continue
    const number = cabinetNumber(plan, cabinet.id)
    if (!cabinetCorners(plan, cabinet, known).every(isIn)) faults.push(say.boxOutside({ number }))
    else if (cabinet.baseM + size.heightM > ground.heightM + slackM) faults.push(say.boxTooHigh({ number }))
  }
  for (const place of places) {
    if (!isIn(place)) faults.push(say.placeOutside({ name: place.name }))
    else if (place.earM >= ground.heightM) faults.push(say.placeTooHigh({ name: place.name }))
  }
  if (
    stage &&
    ![-1, 1].every((side) =>
      isIn({ xM: stage.xM + (side * stage.widthM) / 2, zM: stage.zM + (side * stage.depthM) / 2 }),
    )
  )
    faults.push(say.stageOutside())
  const floorM2 = ground.lengthM * ground.widthM
  if (ground.people > floorM2) faults.push(say.tooManyPeople({ most: String(Math.floor(floorM2)) }))
  return faults
}

function insideBoxes(plan: Plan, known: PlanKnown): string[] {
  return plan.places.flatMap((place) => {
    const around = plan.cabinets.find((cabinet) => {
      const size = boxSize(plan, cabinet.box, known)
      return size && distanceToFootprintM(placed(cabinet, size), place) === 0
    })
    return around ? [say.placeInBox({ name: place.name, number: cabinetNumber(plan, around.id) })] : []
  })
}
