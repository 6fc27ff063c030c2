import { frequencyText } from '../../words/frequencies.ts'
import { moreWords } from '../../words/levels.ts'
import type { JudgedTone } from './match-by-ear.svelte.ts'

/** One result beside the standard. */
export function matchSentence({ frequencyHz, differenceDb, standardDb }: JudgedTone): string {
  const than = Math.round(differenceDb) === 0 ? 'as' : 'than'
  return `At ${frequencyText(frequencyHz)} you needed ${moreWords(differenceDb)} ${than} at 1 kHz; the standard says ${moreWords(standardDb)}.`
}

/** Up to here a tone counts as bass in the summary, Hz. */
const bassToHz = 125
/** Differences up to here are not spoken of, dB. */
const near = 3

/** What the bass results say in all, or '' as long as there is none. */
export function bassMatchSentence(tones: JudgedTone[]): string {
  const bass = tones.filter(({ frequencyHz }) => frequencyHz <= bassToHz)
  if (bass.length === 0) return ''
  const mean = bass.reduce((sum, { differenceDb, standardDb }) => sum + differenceDb - standardDb, 0) / bass.length
  const rounded = Math.round(mean)
  const where =
    bass.length === 1
      ? `In the bass (${frequencyText(bass[0]?.frequencyHz ?? 0)})`
      : `In the bass (${bass.length} tones)`
  if (Math.abs(rounded) <= near)
    return `${where} you are within ${near} dB of the standard${bass.length > 1 ? ' on average' : ''}.`
  const cause =
    rounded > 0
      ? 'A device that is weak in the bass gives that; so does a 1 kHz tone that was softer than you guessed.'
      : 'A device that lifts the bass gives that; so does a 1 kHz tone that was louder than you guessed.'
  return `${where} you needed ${Math.abs(rounded)} dB ${rounded > 0 ? 'more' : 'less'} than the standard${bass.length > 1 ? ' on average' : ''}. ${cause} This test cannot tell these from your ears.`
}

/** What to do now, before anything else is said. */
export function nextStepSentence(doneCount: number, allCount: number): string {
  if (doneCount === 0) return 'Nothing matched yet. Press play, then move the slider until both tones are equally loud.'
  if (doneCount < allCount) return `${doneCount} of ${allCount} tones matched.`
  return `All ${allCount} tones matched.`
}
