import type { AuditionSignal } from '../../sound/audition-types.ts'
import * as say from './listen.messages.ts'

/** What can be played, for a choice; bass alone says no word. */
export const signalOptions = (speech = true): { value: AuditionSignal; text: string }[] => [
  { value: 'pink-noise', text: say.pinkNoise() },
  { value: 'music', text: say.music() },
  ...(speech ? [{ value: 'speech' as const, text: say.speech() }] : []),
]
