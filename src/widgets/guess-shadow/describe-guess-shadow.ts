import type { ShadowBegin } from '../../engine/questions/box/box-pattern.ts'
import { aboutFrequencyText } from '../../words/frequencies.ts'
import { missWords } from '../box-and-wave/describe-box-and-wave.ts'
import * as say from './guess-shadow.messages.ts'

/** How the guess lay, and what it is nearest to. */
export function guessShadowVerdict(guessHz: number, { computedHz, widthRuleHz }: ShadowBegin): string {
  const said = say.said({
    guess: aboutFrequencyText(guessHz),
    computed: aboutFrequencyText(computedHz),
    miss: missWords(guessHz, computedHz),
  })
  return `${said} ${lesson(guessHz, { computedHz, widthRuleHz })}`
}

function lesson(guessHz: number, { computedHz, widthRuleHz }: Omit<ShadowBegin, 'kaRuleHz'>): string {
  const miss = Math.log2(guessHz / computedHz)
  if (Math.abs(miss) < 1 / 6) return say.knowsBoxes()
  if (miss < 0) return say.waveGoesRound()
  return Math.abs(Math.log2(guessHz / widthRuleHz)) < 1 / 3 ? say.waveAsBox() : say.lowerThanSeems()
}
