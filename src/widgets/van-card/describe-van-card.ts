import {
  type CardAnswer,
  type CardBox,
  type CardHorn,
  cardFrontM,
  cardWrapRangeHz,
} from '../../engine/questions/card/card-terms.ts'
import type { LengthUnit } from '../../state/preferences.ts'
import { aboutFrequencyText, bandText, dipFrequencyText } from '../../words/frequencies.ts'
import { fineLengthText, lengthText, tapeText } from '../../words/lengths.ts'
import { decimalText, held, listText, wholeText } from '../../words/numbers.ts'
import * as say from './van-card.messages.ts'

type Lines = (answer: CardAnswer, units: LengthUnit) => string[]

const degrees = (angleDeg: number): string => `${wholeText(angleDeg)}°`

function whereItWraps({ wrapHz, isSolved }: CardBox): string {
  if (wrapHz === 'below') return say.wrapBelow({ frequency: aboutFrequencyText(cardWrapRangeHz.from) })
  if (wrapHz === 'above') return say.wrapAbove({ frequency: aboutFrequencyText(cardWrapRangeHz.to) })
  const frequency = aboutFrequencyText(wrapHz)
  return isSolved ? say.wrapAt({ frequency }) : say.wrapAbout({ frequency })
}

const boxLines: Lines = ({ boxes }, units) =>
  boxes.map((box) =>
    say.wrap({
      box: listText(box.labels),
      width: fineLengthText(box.widthM, units),
      where: whereItWraps(box),
      rule: aboutFrequencyText(box.kaIsOneHz),
    }),
  )

function hornLine({ plane, mouthM, coverageDeg, letsGoHz, ruleHz }: CardHorn, units: LengthUnit): string {
  const [angle, mouth] = [degrees(coverageDeg), fineLengthText(mouthM, units)]
  const rule = aboutFrequencyText(ruleHz)
  if (letsGoHz === null) return (plane === 'across' ? say.hornAcrossRule : say.hornUprightRule)({ angle, mouth, rule })
  const frequency = aboutFrequencyText(letsGoHz)
  return (plane === 'across' ? say.hornAcross : say.hornUpright)({ angle, mouth, frequency, rule })
}

const hornLines: Lines = ({ horns }, units) =>
  horns.length > 0 ? horns.map((horn) => hornLine(horn, units)) : [say.noHorn()]

const columnLines: Lines = ({ columns }, units) =>
  columns.length > 0
    ? columns.map(({ count, lengthM, oneWaveHz, furtherHz }) =>
        say.column({
          count: String(count),
          length: fineLengthText(lengthM, units),
          oneWave: aboutFrequencyText(oneWaveHz),
          further: aboutFrequencyText(furtherHz),
        }),
      )
    : [say.noColumn()]

const wallLines: Lines = ({ depthM, dips }, units) => [
  say.depth({ depth: fineLengthText(depthM, units) }),
  [
    say.dips({ distance: lengthText(cardFrontM, units) }),
    dips
      .map(({ gapM, dipHz }) => {
        const gap = fineLengthText(gapM, units)
        return dipHz === null ? say.noDip({ gap }) : say.dip({ gap, frequency: dipFrequencyText(dipHz) })
      })
      .join(' · '),
  ].join(' '),
]

const pairLines: Lines = ({ pair }, units) =>
  pair
    ? [
        say.pair({
          box: pair.label,
          band: bandText(pair.band),
          spacing: tapeText(pair.spacingM, units),
          quarter: aboutFrequencyText(pair.quarterHz),
          delay: `${decimalText(1000 * pair.delayS, 1)} ms`,
        }),
      ]
    : [say.noPair()]

/** What the card adds to a lesson's steps: the numbers of the rig, by the lesson's slug. Other lessons have none. */
const ownNumbers: Readonly<Record<string, Lines>> = {
  'small-box-long-wave': boxLines,
  'what-a-horn-holds': hornLines,
  'tall-and-thin': columnLines,
  'the-wall-joins-in': wallLines,
  'bass-that-takes-sides': pairLines,
}
export const lessonsWithNumbers = Object.keys(ownNumbers)

/** The lines with a rig's numbers that go with a lesson's steps; none where the rig does not matter. */
export const ownLines = (slug: string, answer: CardAnswer, units: LengthUnit): string[] =>
  (ownNumbers[slug]?.(answer, units) ?? []).map(held)
