import { bandLinesHz } from '../../../acoustics/field/band-levels.ts'
import { earlyLines } from '../../../acoustics/field/early-lines.ts'
import { hallFieldCeilingHz } from '../../../acoustics/field/hall-field.ts'
import { joiningFrequencyHz } from '../../../acoustics/field/reverberant-field.ts'
import {
  type Air,
  type Band,
  type GroundReflection,
  type Hall,
  lateMeanSquarePerW,
  statisticalShare,
} from '../../../acoustics/index.ts'
import { makeRoom } from '../../../acoustics/make-room.ts'
import { airOf } from '../../scene/air.ts'
import { firstLateBandHz } from '../../scene/hall-rig.ts'
import { hallOf } from '../../scene/hall-scene.ts'
import { heardBands } from '../../scene/third-octaves.ts'
import { grassReflection } from '../../scene/walls.ts'
import type { PlanQuestion, PlanSurroundings } from './plan-terms.ts'

// Where a plan's boxes stand, and the lines at which it is worked out; kept by surroundings and air.

/**
 * What of the spectrum is worked out, and with how many lines in a third octave: for resonances, above them as long as single early
 * images are told apart, above that, and outdoors, where the ground's dips are narrow.
 */
export type PlanDetail = {
  bands: readonly Band[]
  linesPerBand: { resonances: number; early: number; above: number; outdoors: number }
}

/** From here on early images are many enough for few lines, Hz. */
const manyImagesHz = 400

/** All that a plan tells. */
export const wholeDetail: PlanDetail = {
  bands: heardBands,
  linesPerBand: { resonances: 24, early: 8, above: 8, outdoors: 24 },
}

/** Enough for a first answer while something is dragged. */
export const coarseDetail: PlanDetail = {
  bands: heardBands,
  linesPerBand: { resonances: 6, early: 6, above: 3, outdoors: 8 },
}

/** The lines of a plan, band after band. */
export type PlanLines = { hz: Float64Array; fromOf: number[] }

/** The surroundings of a plan, ready to be asked. */
export type PlanScene = {
  key: string
  air: Air
  lines: PlanLines
  hall?: {
    hall: Hall
    joiningHz: number
    statistical: Float64Array
    latePerW: Float64Array
    earlyOf: ReturnType<typeof earlyLines>
  }
  /** What the ground outdoors throws back. */
  ground?: GroundReflection
}

/** Hard ground throws everything back. */
const hardGround: GroundReflection = () => ({ re: 1, im: 0 })

const scenes = new Map<string, PlanScene>()

/** Throws RangeError for a hall out of range or an unknown finish. */
export function planScene(
  { surroundings, air: state }: Pick<PlanQuestion, 'surroundings' | 'air'>,
  detail: PlanDetail = wholeDetail,
): PlanScene {
  const air = airOf(state)
  const { bands, linesPerBand } = detail
  const key = JSON.stringify([surroundings, air, linesPerBand, bands[0]?.nominalHz, bands.length])
  let scene = scenes.get(key)
  if (!scene) {
    scene = { key, air, ...parts(surroundings, air, detail) }
    makeRoom(scenes, 12)
    scenes.set(key, scene)
  }
  return scene
}

function parts(
  surroundings: PlanSurroundings,
  air: Air,
  { bands, linesPerBand }: PlanDetail,
): Omit<PlanScene, 'key' | 'air'> {
  if (surroundings.kind === 'outdoors') {
    const ground = surroundings.ground === 'hard' ? hardGround : grassReflection(air)
    return { lines: linesOf(bands, () => linesPerBand.outdoors), ground }
  }
  const hall = hallOf(surroundings.design)
  const joiningHz = Math.min(joiningFrequencyHz(hall, air), hallFieldCeilingHz / Math.SQRT2)
  const lateFromHz = firstLateBandHz(joiningHz)
  const lines = linesOf(bands, (lowerHz) => {
    if (lowerHz < lateFromHz) return linesPerBand.resonances
    return lowerHz < manyImagesHz ? linesPerBand.early : linesPerBand.above
  })
  const statistical = lines.hz.map((frequencyHz) => statisticalShare(frequencyHz, joiningHz))
  const latePerW = lines.hz.map((frequencyHz, line) =>
    statistical[line] === 0 ? 0 : lateMeanSquarePerW(hall, frequencyHz, air),
  )
  const earlyFrom = statistical.findIndex((share) => share > 0)
  const earlyOf = earlyLines(hall, air, lines.hz, earlyFrom < 0 ? lines.hz.length : earlyFrom)
  return { lines, hall: { hall, joiningHz, statistical, latePerW, earlyOf } }
}

function linesOf(bands: readonly Band[], count: (lowerHz: number) => number): PlanLines {
  const fromOf: number[] = []
  const hz: number[] = []
  for (const band of bands) {
    fromOf.push(hz.length)
    hz.push(...bandLinesHz(band, count(band.lowerHz)))
  }
  return { hz: Float64Array.from(hz), fromOf }
}
