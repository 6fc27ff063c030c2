import type { OwnBox, OwnBoxBand, WrapAnswer } from '../../engine/questions/own-box/own-box-terms.ts'
import { rearEstimateRmsDb } from '../../engine/scene/rear-estimate.ts'
import type { LengthUnit } from '../../state/preferences.ts'
import { aboutFrequencyText, fineFrequencyText, frequencyText } from '../../words/frequencies.ts'
import { levelText, tenthsText, underWords } from '../../words/levels.ts'
import { shortText } from '../../words/numbers.ts'
import { sizeText } from '../../words/sizes.ts'
import type { BoxDesign } from './box-design.ts'
import { counted } from './box-port.messages.ts'
import { nominalSizeM } from './nominal-size.ts'
import * as say from './own-box.messages.ts'

/**
 * The finding: where the box stops wrapping its sound round. As long as a hard ball has a say in it, it is a first estimate.
 *
 * @param solving  whether it is still being solved; matters for a first estimate alone
 */
export function wrapTitle(wrap: WrapAnswer, solving = false): string {
  const standing = standingOf(wrap, solving)
  if (wrap.computedHz === 'above') return say.titleAbove({ standing })
  if (wrap.computedHz === 'below') return say.titleBelow({ standing })
  // As long as it moves, it is told no finer than it is known.
  return say.titleAt({ standing, frequency: aboutFrequencyText(wrap.computedHz, wrap.settled ? 2 : 1) })
}

/** What that means, and what the two rules of thumb say; they are judged by what is solved, not by a first estimate, in the numbers that are shown. */
export function wrapSentence(wrap: WrapAnswer, solving = false): string {
  const { computedHz, settled, wavelengthIsWidthHz, kaIsOneHz } = wrap
  const rules = { width: aboutFrequencyText(wavelengthIsWidthHz), ka: aboutFrequencyText(kaIsOneHz) }
  const judged =
    settled && typeof computedHz === 'number'
      ? say.rulesJudged({
          ...rules,
          widthOff: offWords(shownHz(wavelengthIsWidthHz) / shownHz(computedHz)),
          kaOff: offWords(shownHz(kaIsOneHz) / shownHz(computedHz)),
        })
      : say.rules(rules)
  return `${meaningSentence(wrap, solving)} ${judged}`
}

/** A frequency as aboutFrequencyText writes it. */
const shownHz = (frequencyHz: number) => Number(frequencyHz.toPrecision(2))

function meaningSentence(wrap: WrapAnswer, solving: boolean): string {
  const standing = standingOf(wrap, solving)
  if (wrap.computedHz === 'above') return say.meansAbove({ standing })
  if (wrap.computedHz === 'below') return say.meansBelow({ standing })
  return say.meansAt({ standing, frequency: aboutFrequencyText(wrap.computedHz, wrap.settled ? 2 : 1) })
}

/** Whether a sentence stands as it is, or is marked as a first estimate. */
const standingOf = ({ settled }: WrapAnswer, solving: boolean): 'settled' | 'solving' | 'unsolved' =>
  settled ? 'settled' : solving ? 'solving' : 'unsolved'

/** How far a rule is off, from rule over computed: '2.5 times too high', '20 % too low', 'right within 5 %'. */
export function offWords(ratio: number): string {
  if (Math.abs(ratio - 1) < 0.05) return say.right()
  const high = ratio > 1
  const factor = Math.max(ratio, 1 / ratio)
  if (factor < 1.5) return say.percentOff({ percent: 5 * Math.round(20 * Math.abs(ratio - 1)), high })
  return say.timesOff({ times: factor >= 9.95 ? Math.round(factor) : Number(factor.toFixed(1)), high })
}

/** One band in words: beside, behind, directivity index; of a band that is not solved it says what the numbers are of. */
export const bandSentence = ({ nominalHz, model, sideDb, rearDb, directivityIndexDb }: OwnBoxBand): string =>
  say.band({
    frequency: frequencyText(nominalHz),
    ball: model === 'closed-form',
    beside: heightWords(sideDb),
    behind: heightWords(rearDb),
    index: levelText(directivityIndexDb),
  })

/** What the port in the back does, in the band nearest to its tuning; empty for a box without one. */
export function portSentence({ ways }: OwnBox, bands: OwnBoxBand[]): string {
  const port = ways.find((way) => way.port)?.port
  if (!port) return ''
  const away = ({ nominalHz }: OwnBoxBand) => Math.max(nominalHz / port.tuningHz, port.tuningHz / nominalHz)
  const band = bands.reduce((near, next) => (away(next) < away(near) ? next : near))
  return counted({
    tuning: fineFrequencyText(port.tuningHz),
    band: frequencyText(band.nominalHz),
    behind: heightWords(band.rearDb),
    over: Math.round(band.rearDb) > 0,
    ball: band.model === 'closed-form',
  })
}

const heightWords = (reFrontDb: number): string =>
  Math.round(reFrontDb) <= -40 ? say.farUnder() : underWords(reFrontDb, say.asHigh())

/** How far the solving has come, and how sure the bands are. */
export function progressWords(bands: OwnBoxBand[]): string {
  const done = bands.filter(({ model }) => model !== 'closed-form')
  if (done.length === 0) return say.noneSolved({ bands: bands.length })
  const errorsDb = done.flatMap(({ model, estimatedErrorDb }) =>
    model === 'boundary-elements' && estimatedErrorDb !== null ? [estimatedErrorDb] : [],
  )
  const worstDb = Math.max(0.1, Math.ceil(10 * Math.max(0, ...errorsDb)) / 10)
  const sure = { sure: errorsDb.length > 0, worst: tenthsText(worstDb) }
  const count =
    done.length === bands.length
      ? say.allSolved({ bands: bands.length, ...sure })
      : say.someSolved({ done: done.length, bands: bands.length, ...sure })
  const above = done.find(({ model }) => model === 'high-frequency')
  return above
    ? `${count} ${say.large({ frequency: frequencyText(above.nominalHz), decibels: rearEstimateRmsDb })}`
    : count
}

/** How a band was computed, for the table. */
export const howWords: Record<OwnBoxBand['model'], string> = {
  'closed-form': say.howBall(),
  'boundary-elements': say.howSolved(),
  'high-frequency': say.howEstimate(),
}

/** From here on the rear is an estimate, Hz: the first band that is not solved by boundary elements. */
export const estimateFromHz = (bands: OwnBoxBand[]): number =>
  bands.find(({ model }) => model !== 'boundary-elements')?.nominalHz ?? Number.POSITIVE_INFINITY

/** A box in a few words: outer size, drivers, crossover. */
export const designText = (
  { widthM, heightM, depthM, drivers, twoWay, crossoverHz }: BoxDesign,
  units: LengthUnit,
): string =>
  say.setTo({
    width: sizeText(widthM, units),
    height: sizeText(heightM, units),
    depth: sizeText(depthM, units),
    drivers: drivers
      .map(({ kind, diameterM, mouthWidthM, mouthHeightM }) =>
        kind === 'cone'
          ? say.coneOf({ inches: shortText(nominalSizeM(diameterM) / 0.0254, 1) })
          : say.hornOf({ width: sizeText(mouthWidthM, units), height: sizeText(mouthHeightM, units) }),
      )
      .join(' + '),
    crossover: twoWay ? frequencyText(crossoverHz) : 'none',
  })
