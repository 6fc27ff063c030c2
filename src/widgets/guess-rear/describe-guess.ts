import { bassHz, trebleHz } from '../../engine/scene/third-octaves.ts'
import * as say from './guess-rear.messages.ts'

/** A guess at some frequencies against what was computed there; levels in dB. */
export type GuessedBand = { frequencyHz: number; guessDb: number; computedDb: number }

/** How the guess lay, in words: up to the end of the bass, and from the treble on, each by its mean. */
export function guessVerdict(bands: GuessedBand[]): string {
  const bass = meanMiss(bands.filter(({ frequencyHz }) => frequencyHz <= bassHz.to))
  const treble = meanMiss(bands.filter(({ frequencyHz }) => frequencyHz >= trebleHz.from))
  const drew = say.drew({
    bass: missOf(bass),
    bassDb: Math.abs(bass),
    treble: missOf(treble),
    trebleDb: Math.abs(treble),
  })
  return `${drew} ${lesson(bass, treble)}`
}

/** Mean of guess minus computed, whole dB. */
const meanMiss = (bands: GuessedBand[]): number =>
  Math.round(bands.reduce((sum, { guessDb, computedDb }) => sum + guessDb - computedDb, 0) / bands.length)

const missOf = (missDb: number): 'right' | 'high' | 'low' =>
  Math.abs(missDb) <= 3 ? 'right' : missDb > 0 ? 'high' : 'low'

function lesson(bassMissDb: number, trebleMissDb: number): string {
  if (bassMissDb > 3) return say.bassNoLouder()
  if (trebleMissDb > 3) return say.trebleDiffers()
  return trebleMissDb < -3 ? say.lessTreble() : say.knew()
}
