import type { ExpansionTable, Rig } from '../../acoustics/index.ts'
import { keepInPage, knownTable, storeKey, type TableStore } from '../solving/kept-tables.ts'
import type { PlannedWay } from '../solving/solve-table.ts'
import { createEngine, type Engine } from './engine.ts'
import { type SolvingProgress, solveWays } from './solve-ways.ts'

export type { SolvingProgress }

export type SolvingEnd =
  /** Every cabinet of the rig is at hand in the engine. */
  | 'solved'
  /** Cancelled; what had arrived is in use. */
  | 'stopped'
  /** The browser gives no workers, and in the page itself it would take too long. */
  | 'no-workers'

/** Most workers that solve a rig: more would want more memory than a phone gives. */
const mostWorkers = 4

/** How many workers solve a rig on so many cores; two where the browser does not say. */
export const solvingWorkers = (cores = 2): number => Math.max(1, Math.min(mostWorkers, cores))

/**
 * Solves the cabinets of a rig by boundary elements, off the main thread and beside the engine's own questions, and teaches
 * them to the engine: from then on its answers for this rig come from the solution instead of the closed form. Tables that
 * are known from before, in the page or in the store, are not solved again. Solving begins when the engine rests: it takes
 * every core there is, up to four, and the page's first answers must not wait for it.
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
  const {
    onProgress,
    onRefined,
    store,
    makePool = () => createEngine(solvingWorkers(globalThis.navigator?.hardwareConcurrency)),
  } = watch
  const stopping = new AbortController()
  const stop = stopping.signal
  let pool: Engine | undefined

  const work = async (): Promise<SolvingEnd> => {
    const plan = await engine.ask('solving plan', 'solvingPlan', { rig, detail: 'onDemand' })
    if (!plan || stop.aborted) return 'stopped'
    const missing: PlannedWay[] = []
    for (const way of plan.ways) {
      const table = await knownTable(way, store)
      if (stop.aborted) return 'stopped'
      if (table) take(way, table)
      else missing.push(way)
    }
    if (missing.length < plan.ways.length) onRefined?.()
    if (missing.length === 0) return 'solved'
    if (engine.withoutWorkers) return 'no-workers'
    await engine.idle()
    if (stop.aborted) return 'stopped'
    pool = makePool()
    const tables = await solveWays(pool, missing, stop, { onProgress, onUsable: refine })
    if (!tables) return 'stopped'
    for (const [way, table] of tables) take(way, table)
    onRefined?.()
    for (const [way, table] of tables) await store?.keep(storeKey(way), table)
    return 'solved'
  }

  const take = (way: PlannedWay, table: ExpansionTable) => {
    keepInPage(way, table)
    engine.teach(way.key, table)
  }

  const refine = (tables: [string, ExpansionTable][]) => {
    for (const [key, table] of tables) engine.teach(key, table)
    onRefined?.()
  }

  return {
    finished: work().finally(() => pool?.dispose()),
    cancel() {
      stopping.abort()
      pool?.dispose()
    },
  }
}
