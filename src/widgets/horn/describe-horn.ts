import { bassHornHz, frequencyOfMouthHz, type HornAnswer, widestAllowedDeg } from '../../engine/questions/horn/horn.ts'
import type { AirState } from '../../engine/scene/air.ts'
import type { LengthUnit } from '../../state/preferences.ts'
import { aboutFrequencyText, frequencyText } from '../../words/frequencies.ts'
import { nearLengthText } from '../../words/lengths.ts'

/** A beamwidth in words: '68°', or what it means that no direction is down. */
export const beamwidthText = (beamwidthDeg: number | null): string =>
  beamwidthDeg === null ? 'all round' : `${Math.round(beamwidthDeg)}°`

/** Down to where this horn keeps its angle, the rule beside it, and what the bass would ask for; `air` is that of the answer. */
export function holdSentence(
  answer: HornAnswer,
  mouthM: number,
  coverageDeg: number,
  units: LengthUnit,
  air?: AirState,
): string {
  const { letsGoHz, ruleHz, bassMouthM } = answer
  const holds = `This mouth, ${nearLengthText(mouthM, units)} wide, holds ${coverageDeg}° down to about ${aboutFrequencyText(letsGoHz, 2)}; the rule of thumb says ${aboutFrequencyText(ruleHz, 3)}.`
  const bass =
    mouthM < bassMouthM
      ? `To hold it at ${bassHornHz} Hz the mouth would have to be ${nearLengthText(bassMouthM, units)} wide.`
      : `That takes in the bass at ${bassHornHz} Hz, for which ${nearLengthText(bassMouthM, units)} would do: no longer a horn, a room.`
  return [holds, bass, reopensSentence(answer, mouthM, air)].filter(Boolean).join(' ')
}

/** Where a wide horn's beam opens once more above, if it does. */
function reopensSentence({ curve: { reopens } }: HornAnswer, mouthM: number, air?: AirState): string {
  if (!reopens) return ''
  const near = aboutFrequencyText(frequencyOfMouthHz(reopens.mouthOverWavelength, mouthM, air), 2)
  const width = reopens.beamwidthDeg === null ? 'all round' : `to ${Math.round(reopens.beamwidthDeg)}°`
  return `Higher up it opens once more, ${width} near ${near}.`
}

/** What the fan shows at one frequency. */
export function beamSentence(answer: HornAnswer, coverageDeg: number, frequencyHz: number): string {
  const { beamwidthDeg, mouthOverWavelength } = answer
  const waves = `At ${frequencyText(frequencyHz)} the mouth is ${Number(mouthOverWavelength.toPrecision(2))} wavelengths wide`
  return `${waves} and ${beamWords(beamwidthDeg, coverageDeg)}. ${besideWords(answer)}`
}

function beamWords(beamwidthDeg: number | null, coverageDeg: number): string {
  if (beamwidthDeg === null) return 'plays all round: nowhere in front is it 6 dB down'
  const width = Math.round(beamwidthDeg)
  if (width > widestAllowedDeg(coverageDeg)) return `its beam is ${width}° wide, wider than the label says`
  if (width < coverageDeg * 0.9) return `its beam is ${width}° wide, narrower than the label says`
  return `its beam is ${width}° wide, about what the label says`
}

function besideWords({ patternDb }: HornAnswer): string {
  const down = Math.round(-(patternDb.at(-1) ?? 0))
  if (down <= 0) return '90° off it is as loud as straight ahead.'
  return `90° off it is ${down > 40 ? 'more than 40' : down} dB quieter than straight ahead.`
}
