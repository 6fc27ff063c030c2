import { toSourcePoint } from '../../../acoustics/field/placed-source.ts'
import {
  amplitudeRatio,
  hallLevels,
  type PlacedSource,
  type Point,
  type Rig,
  type RigField,
} from '../../../acoustics/index.ts'
import { requireInRange } from '../../../acoustics/numeric-range.ts'
import { airOf, type InAir } from '../../scene/air.ts'
import { rigInHall } from '../../scene/demo-hall.ts'
import { passbandDb } from '../../scene/free-field.ts'
import { directDistanceM, earlyResponse } from '../../scene/hall-early.ts'
import { levelled } from '../../scene/hall-level-correction.ts'
import { mixedResponse } from '../../scene/hall-responses.ts'
import { firstLateBandHz, type HallRig } from '../../scene/hall-rig.ts'
import type { Responses } from '../../scene/responses.ts'
import { planAnswer } from './plan.ts'
import { cabinetSources, driveIn } from './plan-boxes.ts'
import { planScene } from './plan-scene.ts'
import type { PlanQuestion, StandingCabinet } from './plan-terms.ts'

/** One place of two plans in a hall, each as loud there as its own programme makes it. */
export type PlanResponseQuestion = InAir & {
  /** The demo rigs whose solved cabinets are needed. */
  rigs: Rig[]
  here: PlanQuestion
  front: PlanQuestion
  placeId: string
  /** 8000 … 192 000 Hz. */
  sampleRateHz: number
}

/**
 * The impulse responses that two plans are heard with at one place, 0 dB = the passband there in the second plan: direct sound and early
 * images of every box by itself, all images with all resonances of the boxes together, and the reverberant tail, mixed as hallResponses
 * does. In the end every third octave is brought to the level that planAnswer gives it. Ears are as high as everywhere in the sound of
 * halls (earHeightM); the levels are those of the place's own height.
 *
 * @returns here and front: the first plan and the second
 * @throws RangeError as planAnswer, for a plan outdoors, a place that is none, or a sample rate out of range
 */
export function planResponses({ air, here, front, placeId, sampleRateHz }: PlanResponseQuestion): Responses {
  requireInRange('sampleRateHz', sampleRateHz, { min: 8000, max: 192000, unit: 'Hz' })
  const inAir = (plan: PlanQuestion): PlanQuestion => ({ ...plan, ...(air && { air }) })
  const [first, second] = [levelsAt(inAir(here), placeId), levelsAt(inAir(front), placeId)]
  const zeroDb = passbandDb(second.levelsDb)
  const response = (plan: PlanQuestion, { levelsDb, liftDb }: PlaceLevels) =>
    levelled(
      unlevelledPlanResponse(inAir(plan), placeId, amplitudeRatio(liftDb - zeroDb), sampleRateHz),
      levelsDb.map((level) => level - zeroDb),
      sampleRateHz,
    )
  return { here: response(here, first), front: response(front, second) }
}

type PlaceLevels = { levelsDb: Float64Array; liftDb: number }

function levelsAt(plan: PlanQuestion, placeId: string): PlaceLevels {
  const { places, liftDb } = planAnswer(plan)
  const place = places.find(({ id }) => id === placeId)
  if (!place) throw new RangeError(`placeId is ${placeId}; allowed is ${places.map(({ id }) => id).join(', ')}`)
  return { levelsDb: Float64Array.from(place.levelsDb), liftDb }
}

/** What a hall's sound is told from: the demo rig's place. */
const fromRig = ({ xM, zM }: { xM: number; zM: number }) => ({ xM: xM - rigInHall.xM, zM: zM - rigInHall.zM })
const toHall = ({ xM, yM, zM }: Point): Point => ({ xM: xM + rigInHall.xM, yM, zM: zM + rigInHall.zM })

/** A response as its parts add up, before its third octaves are brought to the predicted levels. */
export function unlevelledPlanResponse(
  plan: PlanQuestion,
  placeId: string,
  gain: number,
  sampleRateHz: number,
): Float32Array {
  const scene = planScene(plan)
  const spot = plan.places.find(({ id }) => id === placeId)
  if (!scene.hall || !spot) throw new RangeError('the plan is outdoors or lacks the place; allowed is a hall')
  const { hall } = scene.hall
  const air = airOf(plan.air)
  const sourcesOf = (cabinet: StandingCabinet) =>
    cabinetSources(plan, cabinet).map((source) => ({ ...source, ...driveIn(cabinet) }))
  const all = plan.cabinets.flatMap(sourcesOf)
  const levels = hallLevels(all, hall, air)
  const rigOf = (cabinets: readonly StandingCabinet[], sources: PlacedSource[]): HallRig => ({
    air,
    hall,
    sources,
    levels,
    free: fieldOf(plan, cabinets, sources),
    at: rigInHall,
    toHall,
    lateFromHz: firstLateBandHz(levels.joiningHz),
    fields: new Map(),
  })
  const place = fromRig(spot)
  // Every box by itself and without its delay, so that its direct sound lies where earlyResponse wants it; then put where it comes.
  const boxes = plan.cabinets.map((cabinet) => {
    const rig = rigOf(
      [cabinet],
      sourcesOf(cabinet).map((source) => ({ ...source, delayS: 0 })),
    )
    const early = earlyResponse(rig, place, gain, sampleRateHz)
    return { early, arrivesS: directDistanceM(rig, place) / air.speedOfSoundMps + cabinet.delayS }
  })
  const firstS = Math.min(...boxes.map(({ arrivesS }) => arrivesS))
  const laterOf = (arrivesS: number) => Math.round((arrivesS - firstS) * sampleRateHz)
  const early = new Float64Array(Math.max(...boxes.map((box) => box.early.length + laterOf(box.arrivesS))))
  for (const box of boxes) {
    const later = laterOf(box.arrivesS)
    for (const [i, sample] of box.early.entries()) early[i + later] = (early[i + later] as number) + sample
  }
  const directM = firstS * air.speedOfSoundMps
  return mixedResponse(rigOf(plan.cabinets, all), place, gain, { sampleRateHz, seed: 1, directM, early })
}

/** The free field of some of a plan's boxes, in the coordinates that a hall's sound has. */
function fieldOf(plan: PlanQuestion, cabinets: readonly StandingCabinet[], sources: PlacedSource[]): RigField {
  return {
    rig: {
      name: 'plan',
      cabinets: cabinets.flatMap(({ box, baseM, xM, zM, yawRad }) => {
        const model = plan.boxes[box]
        return model
          ? [{ ...model, frontCentre: { ...fromRig({ xM, zM }), yM: baseM + model.heightM / 2 }, yawRad }]
          : []
      }),
    },
    isOpen: () => true,
    transferAt(listener, frequencyHz) {
      const at = toHall(listener)
      const sum = { re: 0, im: 0 }
      for (const source of sources) {
        const { re, im } = source.radiation(frequencyHz).pressureAt(toSourcePoint(source, at))
        const drive = source.gain * source.polarity
        sum.re += drive * re
        sum.im += drive * im
      }
      return sum
    },
  }
}
