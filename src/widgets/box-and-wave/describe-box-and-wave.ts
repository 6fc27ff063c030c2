import type { ShadowBegin } from '../../engine/questions/box/box-pattern.ts'
import type { LengthUnit } from '../../state/preferences.ts'
import { frequencyText } from '../../words/frequencies.ts'

/** A length of a wave or a box to what a tape can use: '11 m', '1.4 m', '17 cm'; '36 ft', '4.5 ft', '7 in'. */
export function waveLengthText(lengthM: number, units: LengthUnit): string {
  if (units === 'm') {
    if (lengthM >= 9.95) return `${Math.round(lengthM)} m`
    return lengthM >= 0.995 ? `${Number(lengthM.toFixed(1))} m` : `${Math.round(lengthM * 100)} cm`
  }
  const feet = lengthM / 0.3048
  if (feet >= 9.75) return `${Math.round(feet)} ft`
  if (feet >= 2.75) return `${Math.round(feet * 2) / 2} ft`
  const inches = feet * 12
  return `${inches < 10 ? Math.round(inches * 2) / 2 : Math.round(inches)} in`
}

/** The same for a screen reader, with whole words. */
export function waveLengthWords(lengthM: number, units: LengthUnit): string {
  const [number = '', unit = ''] = waveLengthText(lengthM, units).split(' ')
  return `${number} ${{ m: 'metres', cm: 'centimetres', ft: 'feet', in: 'inches' }[unit]}`
}

/** A computed frequency for a sentence, two digits: '430 Hz', '2.1 kHz'. */
export const aboutHz = (frequencyHz: number): string => frequencyText(Number(frequencyHz.toPrecision(2)))

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

/** A ratio of frequencies in thirds of an octave, without its sign: 'one octave', 'two thirds of an octave', '1⅓ octaves'. */
export function octaveWords(ratio: number): string {
  const thirds = Math.abs(Math.round(3 * Math.log2(ratio)))
  const known = ['no octave', 'a third of an octave', 'two thirds of an octave', 'one octave']
  if (thirds < known.length) return known[thirds] ?? ''
  return `${Math.floor(thirds / 3)}${['', '⅓', '⅔'][thirds % 3]} octaves`
}

/** How far one frequency misses another: 'an octave too high' in words; within a sixth of an octave it is right. */
export function missWords(saidHz: number, computedHz: number): string {
  if (Math.round(3 * Math.log2(saidHz / computedHz)) === 0) return 'right to a sixth of an octave'
  return `${octaveWords(saidHz / computedHz)} too ${saidHz > computedHz ? 'high' : 'low'}`
}

/** Where the shadow begins, and how far two rules of thumb miss it. */
export function shadowSentence({ computedHz, widthRuleHz, kaRuleHz }: ShadowBegin): string {
  const rule = (saidHz: number) => `${aboutHz(saidHz)}, ${missWords(saidHz, computedHz)}`
  return (
    `From about ${aboutHz(computedHz)} up this box casts a shadow: there the rear is 6 dB under the front (our definition). ` +
    `The rule “wavelength = width” says ${rule(widthRuleHz)}; the rule “ka = 1”, with a half the width, says ${rule(kaRuleHz)}.`
  )
}
