import { type Complex, divide } from '../complex.ts'
import { requireInRange } from '../numeric-range.ts'

/**
 * Effective flow resistivity of classes of ground, Pa·s/m².
 *
 *   loose      C, uncompacted, loose ground (turf, grass, loose soil)
 *   grass      D, normal uncompacted ground (forest floors, pasture)
 *   compacted  E, compacted field and gravel (compacted lawns, parks)
 *
 * Source: the ground classes of CNOSSOS-EU, in a public transcription. A lawn that people stand on may be any of the three: D is the
 *         middle of them, and within the 150 000 … 300 000 that Embleton, Piercy and Daigle (J. Acoust. Soc. Am. 74 (1983), 1239)
 *         found over grass (this range from memory).
 */
export const flowResistivityPaSM2 = { loose: 80e3, grass: 200e3, compacted: 500e3 } as const

/**
 * Specific admittance β = ρc/Z of ground that is porous all the way down, by Delany and Bazley's fit of what fibrous layers do:
 *
 *   Z/ρc = 1 + 9.08 X^−0.75 − j 11.9 X^−0.73,  X = 1000 f/σ
 *
 * The fit was made for 10 ≤ X ≤ 1000, which over grass is above 2 kHz. Below that it is extrapolated, as outdoor practice does: the
 * flow resistivities in use are not what a bench measures but the number with which this very formula fits sound over ground,
 * from 200 Hz to 2.5 kHz. A later formula (Miki's) with the same number would be another ground. Lower down the formula stays
 * passive, Re Z > ρc, at every frequency (what turns negative is a thin layer on a hard base, which is not taken here), and grass is
 * nearly hard there, so that little hangs on it: the evidence page says how much.
 *
 * @param resistivity  effective flow resistivity, 1000 … 10⁹ Pa·s/m²
 * @param frequencyHz  1e-6 … 100 000 Hz
 * @returns  dimensionless; real and imaginary part above 0 (time factor e^{+jωt})
 * @throws   RangeError for an argument out of range
 * Source:   M. E. Delany and E. N. Bazley, Applied Acoustics 3 (1970), 105; C. I. Chessell, J. Acoust. Soc. Am. 62 (1977), 825, Equations (15), (16).
 */
export function groundAdmittance(resistivity: number, frequencyHz: number): Complex {
  requireInRange('resistivity', resistivity, { min: 1000, max: 1e9, unit: 'Pa·s/m²' })
  requireInRange('frequencyHz', frequencyHz, { min: 1e-6, max: 1e5, unit: 'Hz' })
  const x = (1000 * frequencyHz) / resistivity
  return divide({ re: 1, im: 0 }, { re: 1 + 9.08 * x ** -0.75, im: -11.9 * x ** -0.73 })
}
