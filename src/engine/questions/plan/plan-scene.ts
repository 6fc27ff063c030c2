import { bandLinesHz } from '../../../acoustics/field/band-levels.ts'
import { hallFieldCeilingHz } from '../../../acoustics/field/hall-field.ts'
import { joiningFrequencyHz } from '../../../acoustics/field/reverberant-field.ts'
import { type Air, type Hall, lateMeanSquarePerW, octaveTable, statisticalShare } from '../../../acoustics/index.ts'
import { makeRoom } from '../../../acoustics/make-room.ts'
import { airOf } from '../../scene/air.ts'
import { finishOf } from '../../scene/finishes.ts'
import { firstLateBandHz } from '../../scene/hall-rig.ts'
import { hallOf } from '../../scene/hall-scene.ts'
import { heardBands } from '../../scene/third-octaves.ts'
import type { PlanQuestion, PlanSurroundings } from './plan-terms.ts'

// Where a plan's boxes stand, and the lines at which it is worked out; kept by surroundings and air.

/** Lines in a third octave: for resonances, above them, and outdoors, where the ground's dips are narrow. */
const linesPerBand = { resonances: 24, above: 8, outdoors: 24 }

/** The lines of a plan, band after band. */
export type PlanLines = { hz: Float64Array; fromOf: number[] }

/** The surroundings of a plan, ready to be asked. */
export type PlanScene = {
  key: string
  air: Air
  lines: PlanLines
  hall?: { hall: Hall; joiningHz: number; statistical: Float64Array; latePerW: Float64Array }
  /** Absorption of the ground outdoors. */
  ground?: (frequencyHz: number) => number
}

const scenes = new Map<string, PlanScene>()

/** Throws RangeError for a hall out of range or an unknown finish. */
export function planScene({ surroundings, air: state }: Pick<PlanQuestion, 'surroundings' | 'air'>): PlanScene {
  const air = airOf(state)
  const key = JSON.stringify([surroundings, air])
  let scene = scenes.get(key)
  if (!scene) {
    scene = { key, air, ...parts(surroundings, air) }
    makeRoom(scenes, 8)
    scenes.set(key, scene)
  }
  return scene
}

function parts(surroundings: PlanSurroundings, air: Air): Omit<PlanScene, 'key' | 'air'> {
  if (surroundings.kind === 'outdoors') {
    const grass = () => finishOf('grass')
    const ground = surroundings.ground === 'hard' ? () => 0 : octaveTable(grass().frequenciesHz, grass().absorption)
    return { lines: linesOf(() => linesPerBand.outdoors), ground }
  }
  const hall = hallOf(surroundings.design)
  const joiningHz = Math.min(joiningFrequencyHz(hall, air), hallFieldCeilingHz / Math.SQRT2)
  const lateFromHz = firstLateBandHz(joiningHz)
  const lines = linesOf((lowerHz) => (lowerHz < lateFromHz ? linesPerBand.resonances : linesPerBand.above))
  const statistical = lines.hz.map((frequencyHz) => statisticalShare(frequencyHz, joiningHz))
  const latePerW = lines.hz.map((frequencyHz, line) =>
    statistical[line] === 0 ? 0 : lateMeanSquarePerW(hall, frequencyHz, air),
  )
  return { lines, hall: { hall, joiningHz, statistical, latePerW } }
}

function linesOf(count: (lowerHz: number) => number): PlanLines {
  const fromOf: number[] = []
  const hz: number[] = []
  for (const band of heardBands) {
    fromOf.push(hz.length)
    hz.push(...bandLinesHz(band, count(band.lowerHz)))
  }
  return { hz: Float64Array.from(hz), fromOf }
}
