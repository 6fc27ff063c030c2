import { earHeightM } from '../../scene/scene-terms.ts'
import { drawnDb, type SquaresAt } from './steer-stage.ts'
import { type SheetLine, type SteerAnswer, type SteerQuestion, steerPlanM } from './steer-terms.ts'

/** Lanes are looked for on a line across the plan in such steps, m, and closer by a parabola. */
const laneStepM = 0.05

/** How far a minimum must lie below the neighbouring maxima to count as a lane, dB. */
const laneDepthDb = 3

/** Strong and weak lanes across the plan at the front row's distance. */
export function lanesOf(
  squaresAt: SquaresAt,
  sheet: SheetLine[],
  { set, front, frequencyHz }: SteerQuestion,
): SteerAnswer['lanes'] {
  if (set.arrangement !== 'row' && set.arrangement !== 'left-right') return null
  const steps = Math.round((2 * steerPlanM.halfWidth) / laneStepM)
  const across = Array.from({ length: steps + 1 }, (_, i) => ({
    xM: -steerPlanM.halfWidth + i * laneStepM,
    yM: earHeightM,
    zM: front.zM,
  }))
  const squares = squaresAt('set', sheet, across, `across ${front.zM}`, frequencyHz)
  const levels = Array.from(squares, drawnDb)
  const turns = turnsOf(levels)
  const lanes = { strongM: [] as number[], weakM: [] as number[] }
  for (const [i, turn] of turns.entries()) {
    const beside = [turns[i - 1], turns[i + 1]].filter((each) => each !== undefined)
    const stands = beside.some((each) => Math.abs(each.levelDb - turn.levelDb) >= laneDepthDb)
    if (!stands && turns.length > 1) continue
    if (turn.edge) continue
    const xM = -steerPlanM.halfWidth + turn.at * laneStepM
    ;(turn.high ? lanes.strongM : lanes.weakM).push(Math.abs(xM) < laneStepM / 10 ? 0 : xM)
  }
  return lanes
}

type Turn = { at: number; levelDb: number; high: boolean; edge: boolean }

/** Maxima and minima of a curve, each between grid points by a parabola, and its ends. */
function turnsOf(levels: readonly number[]): Turn[] {
  const turns: Turn[] = []
  const last = levels.length - 1
  for (const [i, here] of levels.entries()) {
    if (i === 0 || i === last) {
      const inward = levels[i === 0 ? 1 : last - 1] as number
      turns.push({ at: i, levelDb: here, high: here > inward, edge: true })
      continue
    }
    const [before, after] = [levels[i - 1] as number, levels[i + 1] as number]
    const high = here > before && here >= after
    const low = here < before && here <= after
    if (!high && !low) continue
    const curve = before - 2 * here + after
    const shift = curve === 0 ? 0 : (before - after) / (2 * curve)
    turns.push({ at: i + shift, levelDb: here, high, edge: false })
  }
  return turns
}
