import {
  coverOf,
  type SteerBand,
  type SteerCandidate,
  type SteerMerits,
  type SteerQuestion,
  type SteerSuggestion,
  usableRule,
} from '../../engine/questions/steer/steer-terms.ts'
import { bandText } from '../../words/frequencies.ts'
import { language } from '../../words/language.ts'
import { noSettingCovers, promisedText, wayOf } from './describe-steer-bass.ts'
import * as say from './steer-work.messages.ts'

/** A candidate is told apart from another by what the page shows of it. */
const sameFigures = (a: SteerMerits, b: SteerMerits) =>
  Math.round(a.rejectionDb) === Math.round(b.rejectionDb) && Math.round(a.frontLossDb) === Math.round(b.frontLossDb)

/** A number of settings as it is written: '12,345'. */
export const settingsText = (tried: number): string => tried.toLocaleString(language)

/** What the suggestion trades against the setting by the book, or that nothing helps, why, and what to do instead. */
export function suggestionSentence(
  { textbook, best, helps, tried, widest, covers }: SteerSuggestion,
  { surroundings, band, set }: Pick<SteerQuestion, 'surroundings' | 'band' | 'set'>,
): string {
  const searched = [coverWords(covers, best, widest, band), say.tried({ settings: settingsText(tried) })]
    .filter(Boolean)
    .join(' ')
  if (!helps) return `${searched} ${nothingHelps(best.merits, { surroundings, band, set })}`
  const rejection = promisedText(best.merits.rejectionDb)
  if (sameFigures(textbook.merits, best.merits))
    return `${searched} ${say.noneBeatsTheBook({ band: bandText(band), rejection })}`
  const keeps = say.bestKeeps({ rejection, byTheBook: promisedText(textbook.merits.rejectionDb) })
  return `${searched} ${keeps} ${traded(textbook.merits, best.merits)}`
}

/** First of all: whether any setting covers the whole band, and which; '' where the best one does. */
function coverWords(
  covers: SteerSuggestion['covers'],
  best: SteerCandidate,
  widest: SteerCandidate | null,
  band: SteerBand,
): string {
  if (!covers.whole) return say.asSentence({ words: noSettingCovers(covers, band) })
  if (best === widest || coverOf(best.merits.usable, band).whole) return ''
  return say.anotherCovers({ band: bandText(band) })
}

function traded(textbook: SteerMerits, best: SteerMerits): string {
  const more = Math.round(best.frontLossDb) - Math.round(textbook.frontLossDb)
  const cost = say.trade({ cost: wayOf(more), costDb: Math.abs(more) })
  if (!moved(textbook.usable, best.usable)) return cost
  const where = say.nowWorks({
    works: best.usable !== null,
    band: best.usable ? bandText(best.usable) : '',
    worked: textbook.usable !== null,
    bandBefore: textbook.usable ? bandText(textbook.usable) : '',
  })
  return `${cost} ${where}`
}

/** Whether an end of the band in which it works has moved by a twelfth of an octave or more. */
function moved(from: SteerBand | null, to: SteerBand | null): boolean {
  if (!from || !to) return from !== to
  const apart = (a: number, b: number) => Math.abs(Math.log2(a / b)) >= 1 / 12
  return apart(from.fromHz, to.fromHz) || apart(from.toHz, to.toHz)
}

function nothingHelps(
  { rejectionDb }: SteerMerits,
  { surroundings, band, set }: Pick<SteerQuestion, 'surroundings' | 'band' | 'set'>,
): string {
  const most = say.nothingHelps({
    rejectionDb: Math.max(0, Math.round(rejectionDb)),
    band: bandText(band),
    leastDb: usableRule.rejectionDb,
  })
  return `${most} ${whyNothing(surroundings, set)} ${say.moveInstead()}`
}

function whyNothing(surroundings: SteerQuestion['surroundings'], { arrangement }: SteerQuestion['set']): string {
  if (arrangement === 'row' || arrangement === 'left-right') return say.besideSendsBack()
  if (surroundings.kind === 'hall') return say.hallBringsBack()
  return surroundings.kind === 'wall' ? say.wallDoubles() : say.narrowerBand()
}

/** The setting that covers most of the band, where it is none of the others: what the page shows of it tells it apart. */
export const widestApart = ({ widest, best, textbook }: SteerSuggestion): SteerCandidate | null =>
  widest && [best, textbook].every(({ set }) => JSON.stringify(set) !== JSON.stringify(widest.set)) ? widest : null
