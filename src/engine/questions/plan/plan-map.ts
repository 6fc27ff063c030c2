import { groupLevelDb, planGridPoint } from '../../../acoustics/index.ts'
import { requireInRange } from '../../../acoustics/numeric-range.ts'
import { bandsBetween } from '../../scene/third-octaves.ts'
import { cabinetAt, cabinetSources, driveIn } from './plan-boxes.ts'
import { mapPartHz, planMapGrid } from './plan-map-grid.ts'
import { type PlanScene, planScene } from './plan-scene.ts'
import { bandLevelsOf, type Drowned, planMeanSquares } from './plan-sound.ts'
import type { ListenedPlace, PlanMapQuestion, PlanMapStrip, StandingCabinet } from './plan-terms.ts'

// The level of a part of the spectrum over the whole floor.

/** A group takes few lines in each of its third octaves, because they are summed; a third octave by itself more. */
const linesPerBand = {
  group: { resonances: 8, early: 6, above: 3, outdoors: 12 },
  alone: { resonances: 16, early: 8, above: 6, outdoors: 12 },
}

/** Sources that radiate less than this share of a line's power are left out there: all of them together change a place by some tenths of a dB at most. */
const faintestShare = 1e-4

/** By cabinet and source the lines at which the rest of the plan drowns it. */
function drownedIn(question: PlanMapQuestion, { lines: { hz } }: PlanScene): (cabinet: StandingCabinet) => Drowned {
  const all = question.cabinets.map((cabinet) => ({
    cabinet,
    powers: cabinetSources(question, cabinet).map((source) =>
      hz.map((frequencyHz) => driveIn(cabinet).gain ** 2 * source.radiation(frequencyHz).powerW),
    ),
  }))
  const wholes = hz.map((_, line) =>
    all.reduce((sum, { powers }) => powers.reduce((own, each) => own + (each[line] as number), sum), 0),
  )
  return (cabinet) => {
    const powers = all.find((each) => each.cabinet === cabinet)?.powers ?? []
    const sets = powers.map(
      (own) => new Set(hz.filter((_, line) => (own[line] as number) < faintestShare * (wholes[line] as number))),
    )
    return (source) => sets[source] ?? new Set()
  }
}

/**
 * Rows of a map: how loud a part of the spectrum is at each place against the main place.
 *
 * @throws RangeError for a grid of fewer than 2 or more than 400 places a side, rows that it does not have, a height outside 0.1 … 20 m, a part
 *         that holds no third octave, or as planAnswer
 * Accuracy: from fewer lines than planAnswer's; groups within 1 dB of it where people stand, third octaves within 1.5 dB (test).
 */
export function planMap(question: PlanMapQuestion): PlanMapStrip {
  const { columns, rows, fromRow, toRow, heightM, places, mainPlace, cabinets, part } = question
  requireInRange('cabinets.length', cabinets.length, { min: 1 })
  requireInRange('columns', columns, { min: 2, max: 400, integer: true })
  requireInRange('rows', rows, { min: 2, max: 400, integer: true })
  requireInRange('fromRow', fromRow, { min: 0, max: rows - 1, integer: true })
  requireInRange('toRow', toRow, { min: fromRow + 1, max: rows, integer: true })
  requireInRange('heightM', heightM, { min: 0.1, max: 20, unit: 'm' })
  const main = places.find(({ id }) => id === mainPlace)
  if (!main) throw new RangeError(`mainPlace is ${mainPlace}; allowed is one of the places`)
  const { from, to } = mapPartHz(part)
  const bands = bandsBetween(from, to)
  requireInRange('third octaves of the part', bands.length, { min: 1 })
  const scene = planScene(question, { bands, linesPerBand: linesPerBand[bands.length > 1 ? 'group' : 'alone'] })
  const grid = planMapGrid(question)
  const spots = Array.from({ length: columns * (toRow - fromRow) }, (_, cell): ListenedPlace => {
    const { xM, zM } = planGridPoint(grid, cell % columns, fromRow + Math.floor(cell / columns))
    return { id: '', xM, zM, earM: heightM }
  })
  const inside = Uint8Array.from(spots, (spot) => (cabinetAt(question, spot) ? 1 : 0))
  const open = spots.filter((_, cell) => !inside[cell])
  const squares = planMeanSquares(question, scene, [main, ...open], drownedIn(question, scene))
  const [mainDb = 0, ...levels] = squares.map((each) => groupLevelDb(bandLevelsOf(scene.lines, each), bands, from, to))
  let next = 0
  return { levelDb: Float32Array.from(inside, (isIn) => (isIn ? 0 : (levels[next++] as number) - mainDb)), inside }
}
