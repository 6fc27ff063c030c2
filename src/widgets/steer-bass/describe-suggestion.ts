import {
  type SteerBand,
  type SteerMerits,
  type SteerQuestion,
  type SteerSuggestion,
  usableRule,
} from '../../engine/questions/steer/steer-terms.ts'
import { bandText } from '../../words/frequencies.ts'
import { promisedText } from './describe-steer-bass.ts'

/** A candidate is told apart from another by what the page shows of it. */
const sameFigures = (a: SteerMerits, b: SteerMerits) =>
  Math.round(a.rejectionDb) === Math.round(b.rejectionDb) && Math.round(a.frontLossDb) === Math.round(b.frontLossDb)

/** What the suggestion trades against the setting by the book, or that nothing helps, why, and what to do instead. */
export function suggestionSentence(
  { textbook, best, helps, tried }: SteerSuggestion,
  { surroundings, band, set }: Pick<SteerQuestion, 'surroundings' | 'band' | 'set'>,
): string {
  const searched = `${tried.toLocaleString('en')} settings tried.`
  if (!helps) return `${searched} ${nothingHelps(best.merits, { surroundings, band, set })}`
  if (sameFigures(textbook.merits, best.merits))
    return `${searched} None beats the setting by the book from ${bandText(band)}: ${overBack(best.merits)}.`
  return `${searched} The best keeps ${overBack(best.merits)}; by the book it is ${promisedText(textbook.merits.rejectionDb)}. ${traded(textbook.merits, best.merits)}`
}

const overBack = ({ rejectionDb }: SteerMerits) => `${promisedText(rejectionDb)} from the back`

function traded(textbook: SteerMerits, best: SteerMerits): string {
  const more = Math.round(best.frontLossDb) - Math.round(textbook.frontLossDb)
  const cost =
    more === 0
      ? 'It costs no more in front.'
      : more > 0
        ? `It pays with ${more} dB in front.`
        : `It gives the front ${-more} dB back.`
  if (!moved(textbook.usable, best.usable)) return cost
  const where = best.usable ? `works from ${bandText(best.usable)}` : 'works nowhere by our rule'
  const before = textbook.usable ? `, by the book from ${bandText(textbook.usable)}` : ''
  return `${cost} It ${where}${before}.`
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
  const most = `Nothing helps here: the best keeps ${Math.max(0, Math.round(rejectionDb))} dB from the back from ${bandText(band)}, and less than ${usableRule.rejectionDb} dB is hardly worth the boxes.`
  const why =
    set.arrangement === 'row' || set.arrangement === 'left-right'
      ? 'Boxes side by side send about as much to the back as to the front.'
      : surroundings.kind === 'hall'
        ? 'The hall brings the bass back from all sides, whatever the boxes do.'
        : surroundings.kind === 'wall'
          ? 'The wall doubles what still goes to the back, and keeps the table close to the boxes.'
          : 'A narrower band may have an answer.'
  return `${most} ${why} Try moving the table or the boxes instead.`
}
