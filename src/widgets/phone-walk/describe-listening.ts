import { type Processing, processings } from '../../sound/microphone.ts'
import { listText } from '../../words/numbers.ts'
import type { RecorderProblem } from '../compare/recorder.svelte.ts'
import * as say from './listen.messages.ts'

// What is said of the microphone itself.

/** What the browser keeps on, and what it does not tell; nothing if all is off. */
export function processingWarnings(processing: Processing): string[] {
  const those = (state: 'on' | 'untold') =>
    listText(processings.filter((what) => processing[what] === state).map((what) => say.processing({ what })))
  const [on, untold] = [those('on'), those('untold')]
  return [...(on ? [say.processed({ what: on })] : []), ...(untold ? [say.untold({ what: untold })] : [])]
}

/** Why there is no microphone. */
export const microphoneProblem = ({ kind, reason }: RecorderProblem): string => say.microphoneProblem({ kind, reason })
