import type { PlanMapQuestion, PlanMapStrip } from '../../engine/questions/plan/plan-terms.ts'
import type { Asking } from '../figure/asked.svelte.ts'

/** A whole map: one row for each step away from the wall behind. */
export type FloorMap = PlanMapStrip & { columns: number; rows: number }

/** What is asked for: everything but the grid, which the work chooses. */
export type FloorQuestion = Omit<PlanMapQuestion, 'columns' | 'rows' | 'fromRow' | 'toRow'>

/** Places of a map while something is dragged, and afterwards. */
const cellsOf = { coarse: 96, fine: 420 }

/** How long the plan rests before the fine map is begun, s. */
const restS = 0.4

/** A grid of about so many places, as good as square ones. */
function gridOf({ floor: { widthM, lengthM } }: FloorQuestion, cells: number): { columns: number; rows: number } {
  const perM = Math.sqrt(cells / (widthM * lengthM))
  const count = (sideM: number) => Math.min(200, Math.max(4, Math.round(perM * sideM)))
  return { columns: count(widthM), rows: count(lengthM) }
}

/**
 * A map of the floor: coarse at once, and once the plan rests strip by strip, by both workers.
 *
 * @param isStopped  whether the reader has had enough: the coarse map is then the answer
 */
export async function floorMap(
  { ask, progress, show, rest }: Pick<Asking<FloorMap>, 'ask' | 'progress' | 'show' | 'rest'>,
  question: FloorQuestion,
  isStopped: () => boolean,
): Promise<FloorMap | undefined> {
  const few = gridOf(question, cellsOf.coarse)
  const strip = await ask('planMap', { ...question, ...few, fromRow: 0, toRow: few.rows }, 'coarse')
  if (!strip) return undefined
  const coarse = { ...strip, ...few }
  show(coarse)
  if (!(await rest(restS))) return undefined
  const many = gridOf(question, cellsOf.fine)
  const { columns, rows } = many
  const fine = { ...many, levelDb: new Float32Array(columns * rows), inside: new Uint8Array(columns * rows) }
  let [next, done] = [0, 0]
  progress(done, rows)
  const lane = async (name: string): Promise<boolean> => {
    while (next < rows && !isStopped()) {
      const row = next++
      const part = await ask('planMap', { ...question, ...many, fromRow: row, toRow: row + 1 }, name)
      // Waiting no time tells whether the question is still the newest.
      if (!part || !(await rest(0))) return false
      fine.levelDb.set(part.levelDb, row * columns)
      fine.inside.set(part.inside, row * columns)
      done += 1
      progress(done, rows)
    }
    return true
  }
  const areWhole = await Promise.all([lane('one'), lane('other')])
  if (!areWhole.every(Boolean)) return undefined
  return done === rows ? fine : coarse
}
