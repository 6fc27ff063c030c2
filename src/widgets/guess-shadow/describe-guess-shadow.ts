import type { ShadowBegin } from '../../engine/questions/box/box-pattern.ts'
import { aboutFrequencyText } from '../../words/frequencies.ts'
import { missWords } from '../box-and-wave/describe-box-and-wave.ts'

/** How the guess lay, and what it is nearest to. */
export function guessShadowVerdict(guessHz: number, { computedHz, widthRuleHz }: ShadowBegin): string {
  const miss = Math.log2(guessHz / computedHz)
  const said = `You said ${aboutFrequencyText(guessHz)}; computed, it is about ${aboutFrequencyText(computedHz)}. Your guess is ${missWords(guessHz, computedHz)}.`
  if (Math.abs(miss) < 1 / 6) return `${said} You know your boxes.`
  if (miss > 0) {
    return Math.abs(Math.log2(guessHz / widthRuleHz)) < 1 / 3
      ? `${said} That is the frequency whose wave is as long as the box is wide; the shadow begins earlier.`
      : `${said} The shadow begins lower than it seems.`
  }
  return `${said} There the wave still goes round.`
}
