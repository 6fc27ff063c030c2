import { frequencyText } from '../../words/frequencies.ts'
import { moreWords } from '../../words/levels.ts'
import * as say from './match-by-ear.messages.ts'
import type { JudgedTone } from './match-by-ear.svelte.ts'

/** One result beside the standard. */
export const matchSentence = ({ frequencyHz, differenceDb, standardDb }: JudgedTone): string =>
  say.matched({
    frequency: frequencyText(frequencyHz),
    more: moreWords(differenceDb),
    same: Math.round(differenceDb) === 0,
    standard: moreWords(standardDb),
  })

/** Up to here a tone counts as bass in the summary, Hz. */
const bassToHz = 125
/** Differences up to here are not spoken of, dB. */
const near = 3

/** What the bass results say in all, or '' as long as there is none. */
export function bassMatchSentence(judged: JudgedTone[]): string {
  const bass = judged.filter(({ frequencyHz }) => frequencyHz <= bassToHz)
  if (bass.length === 0) return ''
  const mean = bass.reduce((sum, { differenceDb, standardDb }) => sum + differenceDb - standardDb, 0) / bass.length
  const rounded = Math.round(mean)
  const tones = { tones: bass.length, frequency: frequencyText(bass[0]?.frequencyHz ?? 0) }
  if (Math.abs(rounded) <= near) return say.bassNear({ ...tones, near })
  return rounded > 0 ? say.bassMore({ ...tones, decibels: rounded }) : say.bassLess({ ...tones, decibels: -rounded })
}

/** What to do now, before anything else is said. */
export function nextStepSentence(done: number, all: number): string {
  if (done === 0) return say.nothingYet()
  return done < all ? say.someMatched({ done, all }) : say.allMatched({ all })
}
