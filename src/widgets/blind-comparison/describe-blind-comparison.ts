import { binomialAtLeast, fewestRightToPass } from '../../acoustics/hearing/binomial.ts'
import { type BlindStage, bassAloneHz, bassDifferencesDb } from '../../engine/questions/blind/blind-terms.ts'
import type { WalkAnswer } from '../../engine/questions/walk/walk.ts'
import { placeWord } from '../../words/directions.ts'
import { frequencyText } from '../../words/frequencies.ts'
import { levelRangeText, quieterWords } from '../../words/levels.ts'
import { chanceText, percentText } from '../../words/numbers.ts'
import { trebleIsEstimate } from '../walk-round/treble-estimate.ts'
import * as say from './blind-comparison.messages.ts'
import type { Letter, StageResult } from './blind-trials.ts'

/** The stages by name, and what is to be heard in each. */
export const stageNames: Record<BlindStage, string> = {
  'true-level': say.stageTrueLevel(),
  matched: say.stageMatched(),
  'bass-alone': say.stageBassAlone(),
}
export const stageWords: Record<BlindStage, string> = {
  'true-level': say.trueLevelMeans(),
  matched: say.matchedMeans(),
  'bass-alone': say.bassAloneMeans({ frequency: frequencyText(bassAloneHz) }),
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
  if (isReversed(result)) {
    const worse = chanceText(binomialAtLeast({ trials, atLeast: trials - right }))
    return say.verdictReversed({ right, trials, chance: worse })
  }
  const score = { right, trials, chance: chanceText(binomialAtLeast({ trials, atLeast: right })) }
  if (!passes(result)) return say.verdictNotShown(score)
  return [say.verdictHeard(score), ...goesSentences(result)].join(' ')
}

/** What many goes do to a pass. */
function goesSentences({ trials, goes }: StageResult): string[] {
  const fewest = fewestRightToPass(trials, significance)
  if (goes < 2 || fewest === undefined) return []
  const oneGo = binomialAtLeast({ trials, atLeast: fewest })
  return [say.manyGoes({ goes, chance: chanceText(1 - (1 - oneGo) ** goes) })]
}

/** Where a stage stands before it is complete; no verdict yet. `right` is undefined while nothing is told. */
export const progressSentence = (answered: number, trials: number, right: number | undefined): string =>
  right === undefined || answered === 0
    ? say.progress({ answered, trials })
    : say.progressTold({ answered, trials, right })

/** A stage that was not brought to its end. */
export const brokenOffSentence = (answered: number, trials: number): string => say.brokenOff({ answered, trials })

/** What is told after an answer. */
export const toldSentence = (said: Letter, behind: Letter, angleDeg: number): string =>
  say.told({ said, behind, right: said === behind, where: otherPlace(angleDeg) })

/** The mark to reach, and how often somebody who mostly hears it would miss it all the same. */
export function markSentence(trials: number): string {
  const fewest = fewestRightToPass(trials, significance)
  if (fewest === undefined) return ''
  const missed = 1 - binomialAtLeast({ trials, atLeast: fewest }, 0.75)
  return say.mark({
    fewest,
    trials,
    chance: chanceText(binomialAtLeast({ trials, atLeast: fewest })),
    most: percentText(significance),
    missed: chanceText(missed),
  })
}

/** What differed between the two sounds of a stage, computed. */
export function differedSentence(stage: BlindStage, answer: WalkAnswer, angleDeg: number): string {
  const where = otherPlace(angleDeg)
  if (stage === 'bass-alone') {
    const { least, most } = bassDifferencesDb(answer)
    return say.differedBass({ where, bass: bassWords(answer), spreadDb: Math.round(most - least) })
  }
  return say.differed({
    where,
    bass: quieterWords(answer.bassDb),
    treble: quieterWords(answer.trebleDb),
    estimate: trebleIsEstimate(answer, angleDeg),
    matched: stage === 'matched',
  })
}

/** What all three stages say together, with the reader's own numbers. */
export function conclusionSentence(
  results: Record<BlindStage, StageResult>,
  answer: WalkAnswer,
  angleDeg: number,
): string {
  const where = otherPlace(angleDeg)
  const { 'true-level': atLevel, matched: atMatched, 'bass-alone': atBass } = results
  const scores = { level: say.score(atLevel), matched: say.score(atMatched), bass: say.score(atBass) }
  const [level, treble, bass] = [atLevel, atMatched, atBass].map(passes)
  if (treble && !bass) return say.concludeTreble({ where, ...scores })
  if (treble && bass) {
    const bassDiffers = levelRangeText(bassDifferencesDb(answer))
    return say.concludeBoth({ where, ...scores, bassLevel: bassWords(answer), bassDiffers })
  }
  if (bass) return say.concludeBass(scores)
  const trebleWords = quieterWords(answer.trebleDb)
  if (!level) return say.concludeNone({ where, ...scores, treble: trebleWords })
  const noise = quieterWords(answer.heard.here.aWeightedDb - answer.heard.front.aWeightedDb)
  return say.concludeLevel({ where, ...scores, noise, treble: trebleWords })
}

/** The bass against the front's: '2 dB quieter', 'as loud as in front'. */
const bassWords = ({ bassDb }: WalkAnswer): string =>
  Math.round(bassDb) === 0 ? say.asLoudAsInFront() : quieterWords(bassDb)
