import type { Rig } from '../../acoustics/index.ts'
import type { SolvingEnd, SolvingProgress, solveRig } from '../../engine/workers/solve-rig.ts'
import { withTimeLimit } from '../../engine/workers/time-limit.ts'
import { fetching } from './solving.messages.ts'

type SolveRig = typeof solveRig

/** How long the code of the solver may take to come, s. */
const codeLimitS = 20

/** The solver and its store, fetched when a rig of the reader's own is first chosen: most readers have none. */
const solver = () =>
  withTimeLimit(
    Promise.all([import('../../engine/workers/solve-rig.ts'), import('../../state/solved-store.ts')]),
    codeLimitS,
    fetching(),
  )

/** The work of solving the reader's own rig: how far it is, how it ended, and when there is more to show. */
export class RigSolving {
  /** From the wish to its end, the fetching of the solver included. */
  working = $state(false)
  progress: SolvingProgress | undefined = $state.raw()
  ended: SolvingEnd | 'failed' | undefined = $state()
  /** Why it failed, in the solver's words. */
  problem = $state('')
  /** Rises whenever the engine has learnt more: what was asked before is to be asked again. */
  revision = $state(0)
  #stop = () => {}
  #leave = () => {}

  /** Solves a rig, or takes it from what is kept on this device. Returns the function that ends the work, also if it was stopped and begun anew. */
  begin(engine: Parameters<SolveRig>[0], rig: Rig): () => void {
    this.leave()
    let current = true
    this.working = true
    this.progress = undefined
    this.ended = undefined
    this.problem = ''
    let stopped = false
    let cancel = () => {
      stopped = true
    }
    const work = async (): Promise<SolvingEnd> => {
      const [{ solveRig: solve }, store] = await solver()
      if (!current || stopped) return 'stopped'
      const solving = solve(engine, rig, {
        onProgress: (progress) => {
          if (current) this.progress = progress
        },
        onRefined: () => {
          if (current) this.revision += 1
        },
        store: { read: store.readSolvedTable, keep: store.keepSolvedTable, drop: store.dropSolvedTable },
      })
      cancel = solving.cancel
      return await solving.finished
    }
    work().then(
      (end) => {
        if (!current) return
        this.working = false
        this.ended = end
      },
      (error: unknown) => {
        if (!current) return
        this.working = false
        this.ended = 'failed'
        this.problem = error instanceof Error ? error.message : String(error)
      },
    )
    this.#stop = () => cancel()
    this.#leave = () => {
      current = false
      cancel()
    }
    return () => this.leave()
  }

  /** Ends the work, if there is any, and forgets how far it was. */
  leave(): void {
    this.#leave()
    this.#stop = () => {}
    this.#leave = () => {}
    this.working = false
    this.progress = undefined
    this.ended = undefined
  }

  /** Ends the work on the reader's wish; what is solved so far stays in use. */
  cancel(): void {
    this.#stop()
  }
}
