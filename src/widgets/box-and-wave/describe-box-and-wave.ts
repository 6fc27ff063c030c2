import type { ShadowBegin } from '../../engine/questions/box/box-pattern.ts'
import type { LengthUnit } from '../../state/preferences.ts'
import { aboutFrequencyText, frequencyText, octaveWords } from '../../words/frequencies.ts'
import { waveLengthText } from '../../words/lengths.ts'
import * as say from './box-and-wave.messages.ts'

/** How a wave compares with the width of the box: '3 times the width of the box', 'a third of the width of the box'. */
export function againstWidth(wavelengthM: number, widthM: number): string {
  const ratio = wavelengthM / widthM
  if (ratio >= 2.5) return say.timesWidth({ times: Math.round(ratio) })
  if (ratio >= 1.75) return say.twiceWidth()
  if (ratio >= 1.25) return say.oneAndAHalfWidth()
  if (ratio >= 0.82) return say.aboutWidth()
  if (ratio >= 0.58) return say.twoThirdsOfWidth()
  return say.partOfWidth({ part: Math.round(1 / ratio) })
}

/** How loud the rear is: '2 dB quieter than in front', 'as loud as in front'; an estimate says 'about'. */
export function rearWords(rearDb: number, estimate: boolean): string {
  const rounded = Math.round(rearDb)
  if (rounded === 0) return say.rearAsLoud()
  return say.rearAgainstFront({ estimate, decibels: Math.abs(rounded), louder: rounded > 0 })
}

/** The finding: the figure's own while the rear is less than 6 dB down, then the shadow. */
export const boxFinding = (rearDb: number, round: string): string => (rearDb > -6 ? round : say.findingShadow())

/** What the figure shows at its present state. */
export type ShownWave = {
  frequencyHz: number
  wavelengthM: number
  widthM: number
  rearDb: number
  /** Whether the rear is an estimate here. */
  estimate: boolean
}

/** The one live sentence. */
export const waveSentence = (shown: ShownWave, units: LengthUnit): string =>
  say.wave({
    frequency: frequencyText(shown.frequencyHz),
    length: waveLengthText(shown.wavelengthM, units),
    against: againstWidth(shown.wavelengthM, shown.widthM),
    rear: rearWords(shown.rearDb, shown.estimate),
  })

/** How far one frequency misses another: 'an octave too high' in words; within a sixth of an octave it is right. */
export function missWords(saidHz: number, computedHz: number): string {
  if (Math.round(3 * Math.log2(saidHz / computedHz)) === 0) return say.missedNothing()
  return say.missed({ octaves: octaveWords(saidHz / computedHz), high: saidHz > computedHz })
}

/** Where the shadow begins, and how far two rules of thumb miss it. */
export const shadowSentence = ({ computedHz, widthRuleHz, kaRuleHz }: ShadowBegin): string =>
  say.shadow({
    computed: aboutFrequencyText(computedHz),
    widthRule: aboutFrequencyText(widthRuleHz),
    widthMiss: missWords(widthRuleHz, computedHz),
    kaRule: aboutFrequencyText(kaRuleHz),
    kaMiss: missWords(kaRuleHz, computedHz),
  })
