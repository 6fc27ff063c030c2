import type { SolvingEnd, SolvingProgress } from '../../engine/workers/solve-rig.ts'

/** Where the solving of the reader's own rig stands, in a sentence or two; '' when there is nothing to say. */
export function solvingWords(
  progress: SolvingProgress | undefined,
  ended: SolvingEnd | 'failed' | undefined,
  problem = '',
): string {
  switch (ended) {
    case 'solved':
      return progress ? 'Your rig is solved. It is kept on this device, so next time it is there at once.' : ''
    case 'stopped':
      return 'Stopped. What is not solved yet is drawn as a hard ball of your box’s surface.'
    case 'no-workers':
      return 'This browser does not let the page compute in the background, so your rig stays a hard ball of its surface.'
    case 'failed':
      return `Your rig could not be solved, so it stays a hard ball of its surface. (${problem})`
    default:
      return progress
        ? `Solving your rig: ${progress.done} of ${progress.total} steps. The first picture is a hard ball; it turns into your box step by step.`
        : ''
  }
}
