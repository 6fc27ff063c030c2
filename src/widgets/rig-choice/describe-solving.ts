import type { SolvingEnd, SolvingProgress } from '../../engine/workers/solve-rig.ts'
import * as say from './solving.messages.ts'

/** Where the solving of the reader's own rig stands, in a sentence or two; '' when there is nothing to say. */
export function solvingWords(
  progress: SolvingProgress | undefined,
  ended: SolvingEnd | 'failed' | undefined,
  problem = '',
): string {
  switch (ended) {
    case 'solved':
      return progress ? say.solved() : ''
    case 'stopped':
      return say.stopped()
    case 'no-workers':
      return say.noWorkers()
    case 'failed':
      return say.failed({ problem })
    default:
      return progress ? say.steps(progress) : ''
  }
}
