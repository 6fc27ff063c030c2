import { thirdOctaveBands } from '../bands/octave-bands.ts'
import { requireInRange } from '../numeric-range.ts'
import { upperLimitBark } from './zwicker-tables.ts'

/*
 * Where the loudness method puts its third octaves on the scale of critical bands: 25–80 Hz ends at 0.9 Bark, 100–160 Hz at
 * 1.8, 200–250 Hz at 2.8, and one third octave each from 315 Hz to 12.5 kHz, which ends at 23.6. The scale ends at 24 Bark,
 * 15.5 kHz in the table of critical bands.
 */
const endHz = 15500
const upperEdgesHz = [80, 160, 250, ...thirdOctaveBands(315, 12500).map(({ nominalHz }) => nominalHz)].map(
  (nominalHz) => thirdOctaveBands(nominalHz, nominalHz)[0]?.upperHz as number,
)
const edgesHz = [0, ...upperEdgesHz, endHz]
const edgesBark = [0, ...upperLimitBark]

/**
 * Critical-band rate on the scale of the loudness method: linear in frequency between the edges of the method's own bands.
 * A pattern of `zwickerLoudness` must be read on this scale, not on a formula for the Bark scale at large, which would put the
 * cut elsewhere than the method put the sound.
 *
 * @param frequencyHz  0 … 20 000 Hz
 * @returns  Bark, 0 … 24; 24 from 15.5 kHz on. 250 Hz is at 2.49 Bark.
 * @throws   RangeError if the frequency is out of range
 * Source:   ISO 532-1:2017, Table A.8 (band limits), with the band edges of IEC 61260-1. The interpolation is ours.
 * Accuracy: within 0.12 Bark of Zwicker's table of critical bands (1961), where 250 Hz is at 2.5 Bark; the formula of Zwicker
 *           and Terhardt (1980) is within 0.20 Bark of that table and puts 250 Hz at 2.44.
 */
export function loudnessBark(frequencyHz: number): number {
  requireInRange('frequencyHz', frequencyHz, { min: 0, max: 20000, unit: 'Hz' })
  let i = 1
  while (i < edgesHz.length && frequencyHz > (edgesHz[i] as number)) i++
  if (i === edgesHz.length) return upperLimitBark.at(-1) as number
  const fromHz = edgesHz[i - 1] as number
  const fromBark = edgesBark[i - 1] as number
  const part = (frequencyHz - fromHz) / ((edgesHz[i] as number) - fromHz)
  return fromBark + part * ((edgesBark[i] as number) - fromBark)
}
