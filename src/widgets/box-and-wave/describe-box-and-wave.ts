import type { ShadowBegin } from '../../engine/questions/box/box-pattern.ts'
import type { LengthUnit } from '../../state/preferences.ts'
import { aboutFrequencyText, frequencyText, octaveWords } from '../../words/frequencies.ts'
import { waveLengthText } from '../../words/lengths.ts'

const parts = ['', '', 'half', 'a third', 'a quarter', 'a fifth', 'a sixth', 'a seventh', 'an eighth', 'a ninth']
const moreParts = ['a tenth', 'an eleventh', 'a twelfth']

/** How a wave compares with the width of the box: '3 times the width of the box', 'a third of the width of the box'. */
export function againstWidth(wavelengthM: number, widthM: number): string {
  const ratio = wavelengthM / widthM
  if (ratio >= 2.5) return `${Math.round(ratio)} times the width of the box`
  if (ratio >= 1.75) return 'twice the width of the box'
  if (ratio >= 1.25) return 'one and a half times the width of the box'
  if (ratio >= 0.82) return 'about as long as the box is wide'
  if (ratio >= 0.58) return 'about two thirds of the width of the box'
  const part = Math.round(1 / ratio)
  return `${[...parts, ...moreParts][part] ?? `1/${part}`}${part === 2 ? '' : ' of'} the width of the box`
}

/** How loud the rear is: '2 dB quieter than in front', 'as loud as in front'; an estimate says 'about'. */
export function rearWords(rearDb: number, estimate: boolean): string {
  const rounded = Math.round(rearDb)
  if (rounded === 0) return 'as loud as in front'
  return `${estimate ? 'about ' : ''}${Math.abs(rounded)} dB ${rounded < 0 ? 'quieter' : 'louder'} than in front`
}

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
  `At ${frequencyText(shown.frequencyHz)} the wave is ${waveLengthText(shown.wavelengthM, units)} long, ` +
  `${againstWidth(shown.wavelengthM, shown.widthM)}; behind it is ${rearWords(shown.rearDb, shown.estimate)}.`

/** How far one frequency misses another: 'an octave too high' in words; within a sixth of an octave it is right. */
export function missWords(saidHz: number, computedHz: number): string {
  if (Math.round(3 * Math.log2(saidHz / computedHz)) === 0) return 'right to a sixth of an octave'
  return `${octaveWords(saidHz / computedHz)} too ${saidHz > computedHz ? 'high' : 'low'}`
}

/** Where the shadow begins, and how far two rules of thumb miss it. */
export function shadowSentence({ computedHz, widthRuleHz, kaRuleHz }: ShadowBegin): string {
  const rule = (saidHz: number) => `${aboutFrequencyText(saidHz)}, ${missWords(saidHz, computedHz)}`
  return (
    `From about ${aboutFrequencyText(computedHz)} up this box casts a shadow: there the rear is 6 dB under the front (our definition). ` +
    `The rule “wavelength = width” says ${rule(widthRuleHz)}; the rule “ka = 1”, with a half the width, says ${rule(kaRuleHz)}.`
  )
}
