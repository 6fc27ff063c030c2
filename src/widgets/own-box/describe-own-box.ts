import type { OwnBoxBand, WrapAnswer } from '../../engine/questions/own-box/own-box.ts'
import { aboutFrequencyText, frequencyText } from '../../words/frequencies.ts'
import { levelText, underWords } from '../../words/levels.ts'

/**
 * The finding: where the box stops wrapping its sound round. As long as a hard ball has a say in it, it is a first estimate.
 *
 * @param solving  whether it is still being solved; matters for a first estimate alone
 */
export function wrapTitle(wrap: WrapAnswer, solving = false): string {
  return estimated(foundWords(wrap), wrap, solving)
}

function foundWords({ computedHz }: WrapAnswer): string {
  if (computedHz === 'above') return 'Up to 2 kHz this box never holds back 6 dB from its rear'
  if (computedHz === 'below') return 'This box holds back 6 dB from its rear even at 31.5 Hz'
  return `This box stops wrapping its sound round at about ${aboutFrequencyText(computedHz)}`
}

/** What that means, and what the two rules of thumb say; they are judged by what is solved, not by a first estimate. */
export function wrapSentence(wrap: WrapAnswer, solving = false): string {
  const { computedHz, settled, wavelengthIsWidthHz, kaIsOneHz } = wrap
  const judges = settled && typeof computedHz === 'number'
  const off = (ruleHz: number) => (judges ? `, ${offWords(ruleHz / computedHz)}` : '')
  const width = `The rule “wavelength = box width” says ${aboutFrequencyText(wavelengthIsWidthHz)}${off(wavelengthIsWidthHz)}`
  const ka = `the rule “ka = 1” says ${aboutFrequencyText(kaIsOneHz)}${off(kaIsOneHz)}`
  return `${estimated(meaningWords(wrap), wrap, solving)} ${width}${judges ? ';' : ','} ${ka}.`
}

function meaningWords({ computedHz }: WrapAnswer): string {
  if (computedHz === 'above') return 'Nowhere from 31.5 Hz to 2 kHz is the rear 6 dB under the front.'
  if (computedHz === 'below') return 'In every band from 31.5 Hz up the rear is 6 dB or more under the front.'
  return `Below about ${aboutFrequencyText(computedHz)} the rear is less than 6 dB under the front.`
}

/** A sentence as it stands, or marked as a first estimate. */
const estimated = (sentence: string, { settled }: WrapAnswer, solving: boolean): string =>
  settled
    ? sentence
    : `First estimate, ${solving ? 'still being solved' : 'not solved'}: ${sentence.charAt(0).toLowerCase()}${sentence.slice(1)}`

/** How far a rule is off, from rule over computed: '2.5 times too high', '20 % too low', 'right within 5 %'. */
export function offWords(ratio: number): string {
  if (Math.abs(ratio - 1) < 0.05) return 'right within 5 %'
  const way = ratio > 1 ? 'high' : 'low'
  const factor = Math.max(ratio, 1 / ratio)
  if (factor >= 1.5) return `${factor >= 9.95 ? Math.round(factor) : Number(factor.toFixed(1))} times too ${way}`
  return `${5 * Math.round(20 * Math.abs(ratio - 1))} % too ${way}`
}

/** One band in words: beside, behind, directivity index; of a band that is not solved it says what the numbers are of. */
export function bandSentence({ nominalHz, model, sideDb, rearDb, directivityIndexDb }: OwnBoxBand): string {
  const ball = model === 'closed-form' ? ', for a hard ball of the same surface,' : ''
  return `At ${frequencyText(nominalHz)}${ball} the level beside is ${heightWords(sideDb)} and behind ${heightWords(rearDb)}. The directivity index is ${levelText(directivityIndexDb)}.`
}

function heightWords(reFrontDb: number): string {
  if (Math.round(reFrontDb) <= -40) return 'more than 40 dB under the front'
  return underWords(reFrontDb, 'as high as in front')
}

/** How far the solving has come, and how sure the bands are. */
export function progressWords(bands: OwnBoxBand[]): string {
  const done = bands.filter(({ model }) => model !== 'closed-form')
  if (done.length === 0) {
    return `0 of ${bands.length} bands solved. What you see first is the closed form of a hard ball.`
  }
  const errorsDb = done.flatMap(({ model, estimatedErrorDb }) =>
    model === 'boundary-elements' && estimatedErrorDb !== null ? [estimatedErrorDb] : [],
  )
  const worst = Math.max(0.1, Math.ceil(10 * Math.max(0, ...errorsDb)) / 10)
  const sure = errorsDb.length > 0 ? `, by the solver’s own estimate within ${worst.toFixed(1)} dB` : ''
  const count =
    done.length === bands.length ? `All ${bands.length} bands solved` : `${done.length} of ${bands.length} bands solved`
  const rest = done.length === bands.length ? '' : '; the others are still the closed form of a hard ball'
  const above = done.find(({ model }) => model === 'high-frequency')
  const estimate = above
    ? ` This box is large: from ${frequencyText(above.nominalHz)} up a high-frequency model stands in, and the rear is an estimate.`
    : ''
  return `${count}${sure}${rest}.${estimate}`
}

/** From here on the rear is an estimate, Hz: the first band that is not solved by boundary elements. */
export const estimateFromHz = (bands: OwnBoxBand[]): number =>
  bands.find(({ model }) => model !== 'boundary-elements')?.nominalHz ?? Number.POSITIVE_INFINITY
