import { guessDelaysMs, guessHitMs, type SteerGuess } from '../../engine/questions/steer/steer-guess-terms.ts'
import { lengthText } from '../../words/lengths.ts'
import { moreWords } from '../../words/levels.ts'
import { shortDelayText } from '../../words/times.ts'

/** What a setting does to a place, against the same boxes stacked: '12 dB less', '1 dB more', 'no less'. */
export function amountWords(lessDb: number): string {
  return moreWords(-lessDb, 'no less')
}

/** The step of the slider nearest to a delay. */
export const stepOf = (delayMs: number): number =>
  guessDelaysMs.reduce((best, next) => (Math.abs(next - delayMs) < Math.abs(best - delayMs) ? next : best), 0)

/** How the guess lay, what the right delay gives, and what turning the box round alone would have given. */
export function guessDelayVerdict(guessMs: number, guess: SteerGuess): string {
  const { spacingM, travelMs, bestMs, cutsDb, lossesDb, turnedOnly } = guess
  const amounts = (delayMs: number) => {
    const step = guessDelaysMs.indexOf(stepOf(delayMs))
    return `${amountWords(cutsDb[step] ?? 0)} at the table, ${amountWords(lossesDb[step] ?? 0)} in front`
  }
  const way = `the sound needs ${shortDelayText(travelMs / 1000)} for the ${lengthText(spacingM, 'm')} (${lengthText(spacingM, 'ft')}) between the fronts`
  const yours = `With ${shortDelayText(guessMs / 1000)}, against the two stacked: ${amounts(guessMs)}.`
  const answer = `Right is one way: ${way}. That gives ${amounts(travelMs)}.`
  const turned = `Turning the rear box round and doing nothing else: ${amountWords(turnedOnly.cutDb)} at the table, ${amountWords(turnedOnly.lossDb)} in front.`
  // At one table near the boxes another delay can be a little better; whoever has found that one is not wrong.
  const best =
    Math.abs(bestMs - travelMs) < 0.15
      ? ''
      : ` At this table ${shortDelayText(bestMs / 1000)} is better still, ${amountWords(cutsDb[guessDelaysMs.indexOf(bestMs)] ?? 0)}, because ears are higher than boxes; for all who are behind, one way it is.`
  const within = (delayMs: number, otherMs = delayMs) =>
    guessMs >= Math.min(delayMs, otherMs) - guessHitMs && guessMs <= Math.max(delayMs, otherMs) + guessHitMs
  if (within(travelMs, bestMs)) return `Right: ${way}. ${yours}${best} ${turned}`
  if (within(0))
    return `That is polarity alone, which cancels to both sides rather than behind. ${yours} ${answer} ${turned}`
  if (within(2 * travelMs)) return `That is the way there and back. ${yours} ${answer} ${turned}`
  return `${yours} ${answer} ${turned}`
}
