import { aboutFrequencyText, frequencyText } from '../../words/frequencies.ts'
import * as say from './guess-horn.messages.ts'

/** How a guess of the frequency at which a horn lets go lies to the computed one. */
export function guessHornVerdict(guessHz: number, letsGoHz: number, coverageDeg: number): string {
  const octaves = Math.log2(letsGoHz / guessHz)
  const said = { guess: frequencyText(guessHz), computed: aboutFrequencyText(letsGoHz, 2) }
  if (Math.abs(octaves) <= 0.4) return say.right(said)
  const apart = Math.max(0.5, Math.round(Math.abs(octaves) * 2) / 2)
  return say.off({ ...said, octaves: apart, higher: octaves > 0, coverageDeg })
}
