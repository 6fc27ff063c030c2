import type { AuditionSignal } from '../../sound/audition-types.ts'
import { wordField } from '../../state/link-fields.ts'
import type { LinkField } from '../../state/share-link.ts'

/** What a link keeps of the sound: what is played, and at which level. The volume is not in it: sound always starts quiet. */
export type ListenState = { signal: AuditionSignal; level: 'true' | 'matched' }

/** True level, or both equally loud to the ear. */
const level: LinkField<ListenState['level']> = {
  read: wordField(['true', 'matched']),
  default: 'true',
}

/** These parts of a link, with what is played first. */
export const listenFields = (
  signal: AuditionSignal,
): { signal: LinkField<AuditionSignal>; level: LinkField<ListenState['level']> } => ({
  /** What is played. */
  signal: { read: wordField(['pink-noise', 'music', 'speech']), default: signal },
  level,
})

/** The same for bass alone, which says no word. */
export const bassListenFields: {
  signal: LinkField<Exclude<AuditionSignal, 'speech'>>
  level: LinkField<ListenState['level']>
} = {
  /** What is played. */
  signal: { read: wordField(['pink-noise', 'music']), default: 'music' },
  level,
}
