import { binomialAtLeast, fewestRightToPass } from '../../acoustics/hearing/binomial.ts'
import { type BlindStage, bassAloneHz, bassDifferencesDb } from '../../engine/questions/blind/blind-terms.ts'
import type { WalkAnswer } from '../../engine/questions/walk/walk.ts'
import { placeWord } from '../../words/directions.ts'
import { levelRangeText, quieterWords } from '../../words/levels.ts'
import { chanceText } from '../../words/numbers.ts'
import { trebleIsEstimate } from '../walk-round/describe-walk-round.ts'
import type { Letter, StageResult } from './blind-trials.ts'

/** The stages by name, and what is to be heard in each. */
export const stageNames: Record<BlindStage, string> = {
  'true-level': 'everything, true level',
  matched: 'everything, matched in loudness',
  'bass-alone': 'bass alone, matched in loudness',
}
export const stageWords: Record<BlindStage, string> = {
  'true-level': 'What arrives at each place, as loud as it arrives.',
  matched: 'The same, with the louder one turned down until both are equally loud to the ear.',
  'bass-alone': `Both cut off above ${bassAloneHz} Hz, then matched again.`,
}

/** Largest chance of a lucky guesser that counts as hearing it: our choice, and the usual one. */
export const significance = 0.05

/** The answer's other place in a word: 'behind', or 'beside'. */
export const otherPlace = (angleDeg: number): 'behind' | 'beside' =>
  placeWord(angleDeg) === 'behind' ? 'behind' : 'beside'

/** Whether a stage shows that the reader hears it. */
export const passes = ({ right, trials }: StageResult): boolean =>
  binomialAtLeast({ trials, atLeast: right }) <= significance

/** Whether a reader was wrong as often as guessing hardly ever is: the difference is heard and taken the wrong way round. */
const isReversed = ({ right, trials }: StageResult): boolean =>
  binomialAtLeast({ trials, atLeast: trials - right }) <= significance

/** The verdict on a complete stage: score, what guessing would do, and what follows. */
export function stageVerdict(result: StageResult): string {
  const { right, trials } = result
  const score = `${right} of ${trials} right.`
  if (isReversed(result)) {
    const worse = chanceText(binomialAtLeast({ trials, atLeast: trials - right }))
    return `${score} Guessing would do as badly or worse in ${worse} of tries: you may well hear a difference and take one for the other.`
  }
  const guessing = `Guessing would do as well or better in ${chanceText(binomialAtLeast({ trials, atLeast: right }))} of tries`
  if (!passes(result)) return `${score} ${guessing}: nothing that shows you can tell them apart.`
  return `${score} ${guessing}: you can hear it.${goesSentence(result)}`
}

/** What many goes do to a pass. */
function goesSentence({ trials, goes }: StageResult): string {
  const fewest = fewestRightToPass(trials, significance)
  if (goes < 2 || fewest === undefined) return ''
  const oneGo = binomialAtLeast({ trials, atLeast: fewest })
  return ` But that was go ${goes}: in ${goes} goes, guessing passes at least once in ${chanceText(1 - (1 - oneGo) ** goes)} of tries.`
}

/** Where a stage stands before it is complete; no verdict yet. `right` is undefined while nothing is told. */
export function progressSentence(answered: number, trials: number, right: number | undefined): string {
  const score = right === undefined || answered === 0 ? '' : `, ${right} right so far`
  return `${answered} of ${trials} answered${score}. The verdict comes after the last.`
}

/** A stage that was not brought to its end. */
export const brokenOffSentence = (answered: number, trials: number): string =>
  `Broken off after ${answered} of ${trials}: no verdict.`

/** What is told after an answer. */
export const toldSentence = (said: Letter, behind: Letter, angleDeg: number): string =>
  `You said ${said}. ${said === behind ? 'Right' : 'Wrong'}: ${behind} was ${otherPlace(angleDeg)}.`

/** The mark to reach, and how often somebody who mostly hears it would miss it all the same. */
export function markSentence(trials: number): string {
  const fewest = fewestRightToPass(trials, significance)
  if (fewest === undefined) return ''
  const missed = 1 - binomialAtLeast({ trials, atLeast: fewest }, 0.75)
  return `Guessing alone gets half of them right. You pass with ${fewest} of ${trials}: guessing does that in ${chanceText(binomialAtLeast({ trials, atLeast: fewest }))} of tries, and ${100 * significance} % is the most that we let through. Somebody who is right three times in four would still miss that mark in ${chanceText(missed)} of tries; more trials miss less. There is no verdict before the last trial: who stops when it goes well makes luck look like hearing.`
}

/** What differed between the two sounds of a stage, computed. */
export function differedSentence(stage: BlindStage, answer: WalkAnswer, angleDeg: number): string {
  const where = otherPlace(angleDeg)
  if (stage === 'bass-alone') {
    const { least, most } = bassDifferencesDb(answer)
    const spread = Math.round(most - least)
    const shape =
      spread === 0
        ? 'less than 1 dB between its third octaves'
        : `its shape, ${spread} dB between the third octaves that differ most`
    return `What differed: ${where}, the bass is ${bassWords(answer)}. Matching takes the level away; what is left is ${shape}.`
  }
  const bass = quieterWords(answer.bassDb)
  const treble = `${trebleIsEstimate(answer, angleDeg) ? 'about ' : ''}${quieterWords(answer.trebleDb)}`
  const level = stage === 'matched' ? '; both were then made equally loud' : ''
  return `What differed: ${where}, bass is ${bass}, treble ${treble}${level}.`
}

/** What all three stages say together, with the reader's own numbers. */
export function conclusionSentence(
  results: Record<BlindStage, StageResult>,
  answer: WalkAnswer,
  angleDeg: number,
): string {
  const where = otherPlace(angleDeg)
  const score = (stage: BlindStage) => `${results[stage].right} of ${results[stage].trials}`
  const [level, treble, bass] = [results['true-level'], results.matched, results['bass-alone']].map(passes)
  const differs = bassDifferencesDb(answer)
  if (treble && !bass) {
    return `Equally loud, with the treble, you told ${where} from front ${score('matched')} times; with bass alone ${score('bass-alone')}. What gives this place away is the missing treble, not the bass.`
  }
  if (treble && bass) {
    return `You told ${where} from front with the treble (${score('matched')}) and by the bass alone as well (${score('bass-alone')}). Before matching, the bass ${where} is ${bassWords(answer)}; its third octaves differ from the front’s by ${levelRangeText(differs)}, and matching cannot undo that. Make sure with the test tones that it was the bass you heard, not a rattle of the device.`
  }
  if (bass) {
    return `You told the bass alone apart (${score('bass-alone')}), but not the whole, matched (${score('matched')}), though the whole has the same bass in it. One of the two may be luck: do both again, with more trials.`
  }
  if (level) {
    return `You told ${where} from front at true level (${score('true-level')}), where pink noise is ${quieterWords(answer.heard.here.aWeightedDb - answer.heard.front.aWeightedDb)} by A-weighting, but not once both were equally loud (${score('matched')}). What gave it away was the level. Treble ${where} is ${quieterWords(answer.trebleDb)}: listen for the top of the sound, and take more trials.`
  }
  return `In no stage did you show that you can tell ${where} from front (${score('true-level')}, ${score('matched')}, ${score('bass-alone')}). Treble ${where} is ${quieterWords(answer.trebleDb)}: check with headphones that you hear both A and B to the top, then take more trials.`
}

/** The bass against the front's: '2 dB quieter', 'as loud as in front'. */
const bassWords = ({ bassDb }: WalkAnswer): string =>
  Math.round(bassDb) === 0 ? 'as loud as in front' : quieterWords(bassDb)
