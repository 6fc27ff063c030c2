import type { DirectionTable, ExpansionTable } from '../../acoustics/index.ts'
import { fewestLines, GrowingTables } from '../solving/growing-tables.ts'
import { lineGroups, type PlannedLine, plannedLines } from '../solving/planned-lines.ts'
import type { LineAnswer, PlannedWay } from '../solving/solve-table.ts'
import { joinedPieces, treblePieces } from '../solving/treble-pieces.ts'
import type { Engine } from './engine.ts'

/** How far the work is, in frequencies of a box and pieces of its treble that take about as long. */
export type SolvingProgress = { done: number; total: number }

/** Pictures are refined this often while lines arrive, as a share of the whole. */
const refineShare = 1 / 8

/**
 * Solves some ways in a pool of workers: first all lines, the quick ones first, then the treble, which takes off from them.
 *
 * @param stop   once it is aborted nothing more is asked
 * @param watch  onProgress as each frequency is done; onUsable now and then with what can be used already
 * @returns      the whole tables, by way; undefined if it was stopped
 */
export async function solveWays(
  pool: Pick<Engine, 'askEach'>,
  ways: PlannedWay[],
  stop: AbortSignal,
  watch: {
    onProgress: ((progress: SolvingProgress) => void) | undefined
    onUsable: (tables: [string, ExpansionTable][]) => void
  },
): Promise<[PlannedWay, ExpansionTable][] | undefined> {
  const planned = plannedLines(ways)
  const pieces = treblePieces(ways)
  const total = planned.length + pieces.length
  let done = 0
  let refinedAt = 0
  const count = () => {
    done += 1
    watch.onProgress?.({ done, total })
  }
  watch.onProgress?.({ done, total })

  const tables = new GrowingTables(ways)
  const groups = lineGroups(planned)
  const questions = groups.map((group) => group.map(({ question }) => question))
  const solved = await pool.askEach('lines', 'solvedLines', questions, ({ answers }, index) => {
    for (const [at, line] of (groups[index] as PlannedLine[]).entries()) {
      if (stop.aborted) return
      tables.add(line, answers[at] as LineAnswer)
      count()
    }
    if (done - refinedAt < refineShare * total) return
    refinedAt = done
    watch.onUsable(tables.usable())
  })
  if (!solved || stop.aborted) return undefined

  const levels = new Map<PlannedWay, DirectionTable[]>(ways.map((way) => [way, []]))
  const trebleQuestions = pieces.map(({ way: { key, cabinet }, frequenciesHz }) => {
    const table = tables.tableOf(key)
    const last = { ...table, lines: table.lines.slice(-fewestLines) }
    return { cabinet, table: last, frequenciesHz, detail: 'onDemand' as const }
  })
  const treble = await pool.askEach('directions', 'solvedDirections', trebleQuestions, (levelsOfPiece, index) => {
    const { way } = pieces[index] as (typeof pieces)[number]
    levels.get(way)?.push(levelsOfPiece)
    count()
  })
  if (!treble || stop.aborted) return undefined
  return ways.map((way) => {
    const directions = joinedPieces(levels.get(way) ?? [])
    return [way, { ...tables.tableOf(way.key), ...(directions && { directions }) }]
  })
}
