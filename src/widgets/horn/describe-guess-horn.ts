import { aboutFrequencyText, frequencyText } from '../../words/frequencies.ts'

/** How a guess of the frequency at which a horn lets go lies to the computed one. */
export function guessHornVerdict(guessHz: number, letsGoHz: number, coverageDeg: number): string {
  const octaves = Math.log2(letsGoHz / guessHz)
  const computed = `about ${aboutFrequencyText(letsGoHz, 2)}`
  if (Math.abs(octaves) <= 0.4) return `You said ${frequencyText(guessHz)}; computed it is ${computed}. You knew it.`
  const apart = Math.max(0.5, Math.round(Math.abs(octaves) * 2) / 2)
  const distance = `${apart} octave${apart === 1 ? '' : 's'} ${octaves > 0 ? 'higher' : 'lower'}`
  const meaning =
    octaves > 0
      ? `All the notes between are wider than ${coverageDeg}°, although the label does not say so.`
      : `It holds more than you gave it credit for.`
  return `You said ${frequencyText(guessHz)}; computed it is ${computed}, ${distance}. ${meaning}`
}
