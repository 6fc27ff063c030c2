import {
  type DirectionTable,
  type ExpansionLine,
  type ExpansionTable,
  isExpansionTable,
  type Rig,
} from '../../acoustics/index.ts'
import { createEngine, type Engine } from '../workers/engine.ts'
import { plannedLines } from './planned-lines.ts'
import type { PlannedWay, TableFrame } from './solve-table.ts'
import { linesPerOctave, solvedVersion } from './solved-frequencies.ts'

/**
 * Where solved tables outlive the page. None of these may throw, reject or wait for ever: a place that refuses or is silent
 * is one that has nothing.
 */
export type TableStore = {
  read(key: string): Promise<unknown>
  keep(key: string, table: ExpansionTable): Promise<void>
  /** Forgets a table that cannot be used. */
  drop(key: string): Promise<void>
}

/** How far the work is, in frequencies of a box and pieces of its treble that take about as long. */
export type SolvingProgress = { done: number; total: number }

export type SolvingEnd =
  /** Every cabinet of the rig is at hand in the engine. */
  | 'solved'
  /** Cancelled; what had arrived is in use. */
  | 'stopped'
  /** The browser gives no workers, and in the page itself it would take too long. */
  | 'no-workers'

/** Tables solved since the page was opened, newest last. */
const kept = new Map<string, ExpansionTable>()
const mostKept = 24

/** Pictures are refined this often while lines arrive, as a share of the whole. */
const refineShare = 1 / 8

/** Frequencies of the treble that one question takes: about a second's work. */
const linesPerPiece = 3

/** Fewest lines that a table can be interpolated from. */
const fewestLines = 4

/**
 * Solves the cabinets of a rig by boundary elements, off the main thread and beside the engine's own questions, and teaches
 * them to the engine: from then on its answers for this rig come from the solution instead of the closed form. Tables that
 * are known from before, in the page or in the store, are not solved again. Solving begins when the engine rests: it takes
 * every core there is, and the page's first answers must not wait for it.
 *
 * @param engine  says what there is to solve and gets the tables, some while the work goes on
 * @param rig     sound (see checkRig)
 * @param watch   onProgress as each frequency is done; onRefined whenever the engine has learnt more, so that the page asks
 *                again; store for the next visit
 * @returns       `finished`, which rejects with the error of the first frequency that fails; `cancel` ends the work at once
 */
export function solveRig(
  engine: Pick<Engine, 'ask' | 'idle' | 'teach' | 'withoutWorkers'>,
  rig: Rig,
  watch: {
    onProgress?: (progress: SolvingProgress) => void
    onRefined?: () => void
    store?: TableStore
    makePool?: () => Engine
  } = {},
): { finished: Promise<SolvingEnd>; cancel: () => void } {
  const { onProgress, onRefined, store, makePool = createEngine } = watch
  let pool: Engine | undefined
  let stopped = false

  const work = async (): Promise<SolvingEnd> => {
    const plan = await engine.ask('solving plan', 'solvingPlan', { rig, detail: 'onDemand' })
    if (!plan || stopped) return 'stopped'
    const missing: PlannedWay[] = []
    for (const way of plan.ways) {
      const table = kept.get(storeKey(way)) ?? (await stored(way))
      if (stopped) return 'stopped'
      if (!table) missing.push(way)
      else {
        remember(storeKey(way), table)
        engine.teach(way.key, table)
      }
    }
    if (missing.length < plan.ways.length) onRefined?.()
    if (missing.length === 0) return 'solved'
    if (engine.withoutWorkers) return 'no-workers'
    await engine.idle()
    if (stopped) return 'stopped'
    pool = makePool()
    return await solve(pool, missing)
  }

  /** The store's table; one that is spoilt or of another version goes, and is solved anew. */
  const stored = async (way: PlannedWay): Promise<ExpansionTable | undefined> => {
    const value = await store?.read(storeKey(way))
    if (value === undefined) return undefined
    if (isTableOf(way, value)) return value
    await store?.drop(storeKey(way))
    return undefined
  }

  const solve = async (pool: Engine, ways: PlannedWay[]): Promise<SolvingEnd> => {
    const questions = plannedLines(ways)
    const treblePieces = ways.flatMap((way) =>
      pieces(way.directionsHz, linesPerPiece).map((frequenciesHz) => ({ way, frequenciesHz })),
    )
    const total = questions.length + treblePieces.length
    let done = 0
    let refinedAt = 0
    const lines = new Map(
      ways.map(({ key, frequenciesHz }) => [key, frequenciesHz.map((): ExpansionLine | undefined => undefined)]),
    )
    const frames = new Map<string, TableFrame>()
    const tableOf = (key: string, count?: number): ExpansionTable => ({
      ...(frames.get(key) as TableFrame),
      lines: (lines.get(key) ?? []).slice(0, count).flatMap((line) => line ?? []),
    })
    const count = () => {
      done += 1
      onProgress?.({ done, total })
    }
    onProgress?.({ done, total })
    const solved = await pool.askEach(
      'lines',
      'solvedLines',
      questions.map(({ question }) => question),
      ({ lines: answered, frame }, index) => {
        const { keys, question } = questions[index] as (typeof questions)[number]
        for (const [set, key] of keys.entries()) {
          const way = ways.find((planned) => planned.key === key)
          const place = way?.frequenciesHz.indexOf(question.frequencyHz) ?? -1
          ;(lines.get(key) ?? [])[place] = answered[set]
          frames.set(key, frame)
        }
        count()
        if (done - refinedAt < refineShare * total) return
        refinedAt = done
        for (const way of ways) {
          const sofar = firstMissing(lines.get(way.key) ?? [])
          if (sofar >= fewestLines) engine.teach(way.key, tableOf(way.key, sofar))
        }
        onRefined?.()
      },
    )
    if (!solved || stopped) return 'stopped'
    const levels = new Map<PlannedWay, DirectionTable[]>(ways.map((way) => [way, []]))
    const treble = await pool.askEach(
      'directions',
      'solvedDirections',
      treblePieces.map(({ way: { key, cabinet }, frequenciesHz }) => {
        const table = tableOf(key)
        return {
          cabinet,
          table: { ...table, lines: table.lines.slice(-fewestLines) },
          frequenciesHz,
          detail: 'onDemand',
        }
      }),
      (piece, index) => {
        const { way } = treblePieces[index] as (typeof treblePieces)[number]
        levels.get(way)?.push(piece)
        count()
      },
    )
    if (!treble || stopped) return 'stopped'
    const tables = ways.map((way): [PlannedWay, ExpansionTable] => {
      const directions = joined(levels.get(way) ?? [])
      return [way, { ...tableOf(way.key), ...(directions && { directions }) }]
    })
    for (const [way, table] of tables) {
      remember(storeKey(way), table)
      engine.teach(way.key, table)
    }
    onRefined?.()
    for (const [way, table] of tables) await store?.keep(storeKey(way), table)
    return 'solved'
  }

  return {
    finished: work().finally(() => pool?.dispose()),
    cancel() {
      stopped = true
      pool?.dispose()
    },
  }
}

/** A list in pieces of some length. */
const pieces = <T>(values: T[], length: number): T[][] =>
  Array.from({ length: Math.ceil(values.length / length) }, (_, i) => values.slice(i * length, (i + 1) * length))

/** One table of directions from its pieces, which may have come in any order. */
function joined(parts: DirectionTable[]): DirectionTable | undefined {
  const rising = [...parts].sort((a, b) => (a.frequenciesHz[0] ?? 0) - (b.frequenciesHz[0] ?? 0))
  const [first] = rising
  return (
    first && {
      ...first,
      frequenciesHz: rising.flatMap(({ frequenciesHz }) => frequenciesHz),
      levelsDb: Float32Array.from(rising.flatMap(({ levelsDb }) => Array.from(levelsDb))),
    }
  )
}

/** How many lines there are without a gap. */
function firstMissing(lines: (ExpansionLine | undefined)[]): number {
  const gap = lines.indexOf(undefined)
  return gap < 0 ? lines.length : gap
}

/** What a table is kept under: everything that it depends on. */
const storeKey = ({ key, frequenciesHz }: PlannedWay): string =>
  `${solvedVersion} ${linesPerOctave.onDemand} ${frequenciesHz[0]} ${frequenciesHz.at(-1)} ${key}`

function remember(key: string, table: ExpansionTable): void {
  kept.delete(key)
  kept.set(key, table)
  for (const oldest of kept.keys()) {
    if (kept.size <= mostKept) break
    kept.delete(oldest)
  }
}

/** Whether what the store gave is the table that is meant, whole: at the frequencies of the plan, every number finite. */
const isTableOf = ({ frequenciesHz, directionsHz }: PlannedWay, value: unknown): value is ExpansionTable =>
  isExpansionTable(value) &&
  alike(
    value.lines.map(({ frequencyHz }) => frequencyHz),
    frequenciesHz,
  ) &&
  alike(value.directions?.frequenciesHz ?? [], directionsHz)

const alike = (a: number[], b: number[]): boolean => a.length === b.length && a.every((value, i) => value === b[i])
