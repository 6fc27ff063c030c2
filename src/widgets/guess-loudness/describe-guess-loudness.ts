import type { TurnedDown } from '../../engine/questions/ear/ear-facts.ts'
import { frequencyText } from '../../words/frequencies.ts'
import { partText, sonesText } from '../../words/loudness.ts'
import * as say from './guess-loudness.messages.ts'
import type { LoudnessGuess } from './guess-loudness-link.ts'

const partLeft = ({ fromSones, toSones }: TurnedDown): number => toSones / fromSones

/** Which tone keeps less of its loudness, by the numbers. */
export function losesMore(low: TurnedDown, high: TurnedDown): Exclude<LoudnessGuess, 'none'> {
  const [a, b] = [partLeft(low), partLeft(high)]
  if (Math.abs(a - b) < 0.02) return 'same'
  return a < b ? 'low' : 'high'
}

/** What happens to one tone: '50 Hz goes from 4.0 to 1.3 sones: about a third is left.' */
const oneTone = (tone: TurnedDown): string =>
  say.oneTone({
    frequency: frequencyText(tone.frequencyHz),
    from: sonesText(tone.fromSones),
    to: sonesText(tone.toSones),
    part: partText(partLeft(tone)),
  })

/** The verdict on a guess, with both tones' numbers. */
export function guessLoudnessVerdict(guess: LoudnessGuess, low: TurnedDown, high: TurnedDown): string {
  const right = guess === losesMore(low, high)
  return say.verdict({
    guess: guess === 'none' ? 'none' : right ? 'right' : 'wrong',
    low: oneTone(low),
    high: oneTone(high),
  })
}
