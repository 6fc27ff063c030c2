import { guessDelaysMs, guessHitMs, type SteerGuess } from '../../engine/questions/steer/steer-guess-terms.ts'
import { tapeText } from '../../words/lengths.ts'
import { moreWords } from '../../words/levels.ts'
import { shortDelayText } from '../../words/times.ts'
import * as say from './guess-delay.messages.ts'

/** What a setting does to a place, against the same boxes stacked: '12 dB less', '1 dB more', 'no less'. */
export function amountWords(lessDb: number): string {
  return moreWords(-lessDb, say.noLess())
}

/** The step of the slider nearest to a delay. */
export const stepOf = (delayMs: number): number =>
  guessDelaysMs.reduce((best, next) => (Math.abs(next - delayMs) < Math.abs(best - delayMs) ? next : best), 0)

/** How the guess lay, what the right delay gives, and what turning the box round alone would have given. */
export function guessDelayVerdict(guessMs: number, guess: SteerGuess): string {
  const { spacingM, travelMs, bestMs, cutsDb, lossesDb, turnedOnly } = guess
  const time = (delayMs: number) => shortDelayText(delayMs / 1000)
  const amounts = (delayMs: number) => {
    const step = guessDelaysMs.indexOf(stepOf(delayMs))
    return { table: amountWords(cutsDb[step] ?? 0), front: amountWords(lossesDb[step] ?? 0) }
  }
  const way = { time: time(travelMs), metres: tapeText(spacingM, 'm'), feet: tapeText(spacingM, 'ft') }
  const yours = say.yours({ delay: time(guessMs), ...amounts(guessMs) })
  const answer = say.answer({ ...way, ...amounts(travelMs) })
  const turned = say.turned({ table: amountWords(turnedOnly.cutDb), front: amountWords(turnedOnly.lossDb) })
  // At one table near the boxes another delay can be a little better; whoever has found that one is not wrong.
  const best =
    Math.abs(bestMs - travelMs) < 0.15
      ? ''
      : say.betterStill({ delay: time(bestMs), table: amountWords(cutsDb[guessDelaysMs.indexOf(bestMs)] ?? 0) })
  const within = (delayMs: number, otherMs = delayMs) =>
    guessMs >= Math.min(delayMs, otherMs) - guessHitMs && guessMs <= Math.max(delayMs, otherMs) + guessHitMs
  if (within(travelMs, bestMs)) return [say.right(way), yours, best, turned].filter(Boolean).join(' ')
  if (within(0)) return `${say.polarityAlone()} ${yours} ${answer} ${turned}`
  if (within(2 * travelMs)) return `${say.wayThereAndBack()} ${yours} ${answer} ${turned}`
  return `${yours} ${answer} ${turned}`
}
