import type { Rig } from '../../acoustics/index.ts'
import type { SavedRig } from '../../state/saved-rigs.ts'

/** A rig as the walk-round offers it. */
export type WalkRig = { key: string; title: string; short: string; description: string; rig: Rig }

/** Whether a rig of the walk-round is the reader's own, saved on this device. */
export const isOwnRig = (key: string): boolean => key.startsWith('own-')

/** A saved rig as one more choice of the walk-round. */
export const ownWalkRig = ({ key, name, rig }: SavedRig): WalkRig => ({
  key,
  title: name,
  short: `My rig: ${name}`,
  description: `“${name}” is your own rig and is on this device only: elsewhere a link to this walk opens with another rig.`,
  rig,
})
