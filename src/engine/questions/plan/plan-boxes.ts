import { cabinetAround } from '../../../acoustics/field/rig.ts'
import { type Air, amplitudeRatio, type PlacedSource, type Radiation, rigSources } from '../../../acoustics/index.ts'
import { makeRoom } from '../../../acoustics/make-room.ts'
import { airOf } from '../../scene/air.ts'
import { voicedAt } from '../../scene/free-field.ts'
import { solvedModel, solvedRevision } from '../../scene/solved-gear.ts'
import type { ListenedPlace, PlanBoxModel, PlanQuestion, StandingCabinet } from './plan-terms.ts'

// A plan's cabinets as sources: what they are, where they stand, and what they are fed with.

/** The ways of a box at the origin of the plan, set flat as a crew does: alone, 4 m in front of it. Radiations are kept by frequency. */
const boxes = new Map<string, PlacedSource[]>()

function boxSources(box: PlanBoxModel, baseM: number, air: Air): PlacedSource[] {
  const key = `${solvedRevision()} ${JSON.stringify([box, baseM, air])}`
  let sources = boxes.get(key)
  if (!sources) {
    const frontCentre = { xM: 0, yM: baseM + box.heightM / 2, zM: 0 }
    const origin = { position: { xM: 0, yM: 0, zM: 0 }, yawRad: 0 }
    sources = rigSources(
      { name: box.name, cabinets: [{ ...box, frontCentre }] },
      air,
      solvedModel,
      origin,
      voicedAt,
    ).map((source) => ({ ...source, radiation: keptRadiation(source.radiation) }))
    makeRoom(boxes, 40)
    boxes.set(key, sources)
  }
  return sources
}

function keptRadiation(of: (frequencyHz: number) => Radiation): (frequencyHz: number) => Radiation {
  const kept = new Map<number, Radiation>()
  return (frequencyHz) => {
    let radiation = kept.get(frequencyHz)
    if (!radiation) {
      radiation = of(frequencyHz)
      makeRoom(kept, 2048)
      kept.set(frequencyHz, radiation)
    }
    return radiation
  }
}

/** The ways of a cabinet where it stands, under no drive. Throws RangeError for a box that is none. */
export function cabinetSources(
  { boxes: models, air }: Pick<PlanQuestion, 'boxes' | 'air'>,
  cabinet: StandingCabinet,
): PlacedSource[] {
  const model = models[cabinet.box]
  if (!model) throw new RangeError(`box is ${cabinet.box}; allowed is ${Object.keys(models).join(', ')}`)
  return boxSources(model, cabinet.baseM, airOf(air)).map((source) => ({
    ...source,
    position: { xM: cabinet.xM, yM: source.position.yM, zM: cabinet.zM },
    yawRad: cabinet.yawRad,
  }))
}

/** What a cabinet is fed with. */
export const driveIn = (cabinet: StandingCabinet) => ({
  gain: amplitudeRatio(cabinet.levelDb),
  delayS: cabinet.delayS,
  polarity: cabinet.polarity,
})

/** The cabinet whose box a place lies in, on its surface not counted; undefined for a place in the open. */
export function cabinetAt(
  { boxes: models, cabinets }: Pick<PlanQuestion, 'boxes' | 'cabinets'>,
  { xM, zM, earM }: ListenedPlace,
): StandingCabinet | undefined {
  return cabinets.find(({ box, xM: x, zM: z, baseM, yawRad }) => {
    const model = models[box]
    if (!model) return false
    const frontCentre = { xM: x, yM: baseM + model.heightM / 2, zM: z }
    return (
      cabinetAround({ name: '', cabinets: [{ ...model, frontCentre, yawRad }] }, { xM, yM: earM, zM }) !== undefined
    )
  })
}
