import { requireInRange } from '../numeric-range.ts'
import type { Band } from './octave-bands.ts'

/**
 * Bands of a fraction of an octave with 1 kHz on a band centre (odd fractions) or on an edge (even ones):
 * f = 1000 · G^{x/b} or 1000 · G^{(2x+1)/(2b)},  edges f · G^{±1/(2b)},  G = 10^{3/10}
 *
 * @param fraction  b, 1 … 96: 24 for twenty-fourths of an octave
 * @param fromHz    lowest and highest mid-band frequency that may be, Hz
 * @returns  bands in rising order; the nominal frequency is the exact one
 * @throws   RangeError for arguments out of range
 * Source:   IEC 61260-1:2014, Formulas (1) to (5).
 */
export function fractionalOctaveBands(fraction: number, fromHz: number, toHz: number): Band[] {
  requireInRange('fraction', fraction, { min: 1, max: 96, integer: true })
  requireInRange('fromHz', fromHz, { min: 1, max: toHz, unit: 'Hz' })
  requireInRange('toHz', toHz, { max: 2e5, unit: 'Hz' })
  const shift = fraction % 2 === 0 ? 0.5 : 0
  const place = (frequencyHz: number) => (10 / 3) * fraction * Math.log10(frequencyHz / 1000) - shift
  const first = Math.ceil(place(fromHz) - 1e-9)
  const bands: Band[] = []
  for (let index = first; index <= place(toHz) + 1e-9; index++) {
    const at = (steps: number) => 1000 * 10 ** ((0.3 * (index + shift + steps)) / fraction)
    bands.push({ index, nominalHz: at(0), centreHz: at(0), lowerHz: at(-0.5), upperHz: at(0.5) })
  }
  return bands
}
