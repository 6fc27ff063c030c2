import { bassHz, trebleHz } from '../../engine/scene/third-octaves.ts'

/** A guess at some frequencies against what was computed there; levels in dB. */
export type GuessedBand = { frequencyHz: number; guessDb: number; computedDb: number }

/** How the guess lay, in words: up to the end of the bass, and from the treble on, each by its mean. */
export function guessVerdict(bands: GuessedBand[]): string {
  const bass = meanMiss(bands.filter(({ frequencyHz }) => frequencyHz <= bassHz.to))
  const treble = meanMiss(bands.filter(({ frequencyHz }) => frequencyHz >= trebleHz.from))
  return `In the bass you drew the line ${missWords(bass)}; in the treble, ${missWords(treble)}. ${lesson(bass, treble)}`
}

/** Mean of guess minus computed, whole dB. */
const meanMiss = (bands: GuessedBand[]): number =>
  Math.round(bands.reduce((sum, { guessDb, computedDb }) => sum + guessDb - computedDb, 0) / bands.length)

function missWords(missDb: number): string {
  if (Math.abs(missDb) <= 3) return 'where it lies, within 3 dB'
  return `${Math.abs(missDb)} dB too ${missDb > 0 ? 'high' : 'low'}`
}

function lesson(bassMissDb: number, trebleMissDb: number): string {
  if (bassMissDb > 3) return 'The bass behind is not louder than in front: it is nearly the same.'
  if (trebleMissDb > 3) return 'The big difference is in the treble, not in the bass.'
  if (trebleMissDb < -3) return 'Less treble than even the computed rear: you knew which way it goes.'
  return 'You knew it.'
}
