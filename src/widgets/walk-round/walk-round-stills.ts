import { highestWaveHz, type WalkRoundState } from './walk-round-link.ts'

/** Frequencies of the one-frequency pictures that pages may begin with, Hz. */
export const stillFrequenciesHz = [125, 1000] as const

/** Name of the still that shows a state's picture of the waves: 'top-over-sub-two' or 'compact-two-way-1000'. */
export function stillName({ rig, bands, frequencyHz }: Pick<WalkRoundState, 'rig' | 'bands' | 'frequencyHz'>): string {
  return bands === 'two' ? `${rig}-two` : `${rig}-${Math.min(frequencyHz, highestWaveHz)}`
}

/** Address of that still. */
export const stillAddress = (state: WalkRoundState): string => `/stills/${stillName(state)}.png`
