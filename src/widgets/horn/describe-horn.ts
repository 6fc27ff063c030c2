import { bassHornHz, frequencyOfMouthHz, type HornAnswer, widestAllowedDeg } from '../../engine/questions/horn/horn.ts'
import type { AirState } from '../../engine/scene/air.ts'
import type { LengthUnit } from '../../state/preferences.ts'
import { aboutFrequencyText, frequencyText } from '../../words/frequencies.ts'
import { nearLengthText } from '../../words/lengths.ts'
import { roundText } from '../../words/numbers.ts'
import * as say from './horn.messages.ts'

/** A beamwidth in words: '68°', or what it means that no direction is down. */
export const beamwidthText = (beamwidthDeg: number | null): string =>
  beamwidthDeg === null ? say.allRound() : `${Math.round(beamwidthDeg)}°`

/** The same as the values of a message. */
export const widthOf = (beamwidthDeg: number | null): { allRound: boolean; widthDeg: number } => ({
  allRound: beamwidthDeg === null,
  widthDeg: Math.round(beamwidthDeg ?? 0),
})

/** Down to where this horn keeps its angle, the rule beside it, and what the bass would ask for; `air` is that of the answer. */
export function holdSentence(
  answer: HornAnswer,
  mouthM: number,
  coverageDeg: number,
  units: LengthUnit,
  air?: AirState,
): string {
  const { letsGoHz, ruleHz, bassMouthM } = answer
  const holds = say.holds({
    width: nearLengthText(mouthM, units),
    coverageDeg,
    letsGo: aboutFrequencyText(letsGoHz, 2),
    rule: aboutFrequencyText(ruleHz, 2),
  })
  const needs = { bass: frequencyText(bassHornHz), width: nearLengthText(bassMouthM, units) }
  const bass = mouthM < bassMouthM ? say.bassAsksFor(needs) : say.bassTakenIn(needs)
  return [holds, bass, reopensSentence(answer, mouthM, air)].filter(Boolean).join(' ')
}

/** Where a wide horn's beam opens once more above, if it does. */
function reopensSentence({ curve: { reopens } }: HornAnswer, mouthM: number, air?: AirState): string {
  if (!reopens) return ''
  const frequency = aboutFrequencyText(frequencyOfMouthHz(reopens.mouthOverWavelength, mouthM, air), 2)
  return say.reopens({ ...widthOf(reopens.beamwidthDeg), frequency })
}

/** What the fan shows at one frequency. */
export function beamSentence(answer: HornAnswer, coverageDeg: number, frequencyHz: number): string {
  const { beamwidthDeg, mouthOverWavelength } = answer
  const beam = say.beam({
    frequency: frequencyText(frequencyHz),
    wavelengths: roundText(mouthOverWavelength, 2),
    beam: against(beamwidthDeg, coverageDeg),
    widthDeg: Math.round(beamwidthDeg ?? 0),
  })
  return `${beam} ${besideSentence(answer)}`
}

/** How the beam compares with the label. */
function against(beamwidthDeg: number | null, coverageDeg: number): 'allRound' | 'wider' | 'narrower' | 'asLabelled' {
  if (beamwidthDeg === null) return 'allRound'
  const widthDeg = Math.round(beamwidthDeg)
  if (widthDeg > widestAllowedDeg(coverageDeg)) return 'wider'
  return widthDeg < coverageDeg * 0.9 ? 'narrower' : 'asLabelled'
}

/** What is told of levels beside the horn ends here, dB. */
const mostDb = 40

function besideSentence({ patternDb }: HornAnswer): string {
  const down = Math.round(-(patternDb.at(-1) ?? 0))
  if (down <= 0) return say.besideAsLoud()
  return say.besideQuieter({ over: down > mostDb, decibels: Math.min(mostDb, down) })
}
