import type { NeighbourQuestion, PlanBoxModel, PlanQuestion } from '../../engine/questions/plan/plan-terms.ts'
import { finishTitles } from '../../engine/scene/finishes.ts'
import { partitions } from '../../engine/scene/partitions.ts'
import { readerHallDesign } from '../../engine/scene/reader-hall.ts'
import type { Plan, PlanKnown } from '../../state/plan-schema.ts'
import type { RigChoice } from '../rig-choice/rig-choice.ts'

/** A box that a plan may take: a cabinet of a rig. */
export type OfferedBox = { key: string; name: string; rig: RigChoice; model: PlanBoxModel }

/** Every cabinet of some rigs. */
export const offeredBoxes = (rigs: readonly RigChoice[]): OfferedBox[] =>
  rigs.flatMap((rig) =>
    rig.rig.cabinets.map(({ frontCentre: _, yawRad: __, ...model }) => ({
      key: `${rig.key}/${model.name}`,
      name: rig.rig.cabinets.length > 1 ? `${rig.short}: ${model.label ?? model.name}` : rig.short,
      rig,
      model,
    })),
  )

/** What a plan may name: the page's own boxes; those of the reader stand in the plan. */
export const planKnown = (boxes: readonly OfferedBox[]): PlanKnown => ({
  finishes: Object.keys(finishTitles),
  partitions: partitions.map(({ key }) => key),
  boxes: Object.fromEntries(boxes.map(({ key, model }) => [key, model])),
})

/** What a plan asks. Throws RangeError as readerHallDesign for a hall that the faults of a plan would have told. */
export function planQuestion(plan: Plan, boxes: readonly OfferedBox[]): PlanQuestion {
  const { ground, crowd, cabinets, places, mainPlace, programmeDbA, ownBoxes } = plan
  const used = boxes.filter(({ key }) => cabinets.some(({ box }) => box === key))
  const own = ownBoxes.map(({ key, ...model }): [string, PlanBoxModel] => [key, model as PlanBoxModel])
  return {
    rigs: [...new Map(used.map(({ rig }) => [rig.key, rig.rig])).values()],
    boxes: Object.fromEntries([...used.map(({ key, model }): [string, PlanBoxModel] => [key, model]), ...own]),
    surroundings:
      ground.kind === 'hall'
        ? { kind: 'hall', design: readerHallDesign(ground) }
        : { kind: 'outdoors', ground: ground.ground },
    cabinets: cabinets.map(({ id, box, xM, zM, baseM, yawDeg, levelDb, delayMs, inverted }) => ({
      id,
      box,
      xM,
      zM,
      baseM,
      yawRad: (yawDeg * Math.PI) / 180,
      levelDb,
      delayS: delayMs / 1000,
      polarity: inverted ? (-1 as const) : (1 as const),
    })),
    places: places.map(({ id, xM, zM, earM }) => ({ id, xM, zM, earM })),
    ...(crowd && { crowd }),
    mainPlace,
    programmeDbA,
  }
}

/** What is asked for the neighbour; undefined without one, and outdoors, where no wall is between. */
export function neighbourQuestion(plan: Plan, boxes: readonly OfferedBox[]): NeighbourQuestion | undefined {
  const { neighbour, ground } = plan
  if (!neighbour || ground.kind !== 'hall') return undefined
  const { name: _, ...through } = neighbour
  return { ...planQuestion(plan, boxes), ...through }
}
