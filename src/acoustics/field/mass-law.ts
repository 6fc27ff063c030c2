import { type Air, requireAir } from '../medium/air.ts'
import { requireInRange } from '../numeric-range.ts'

/**
 * What a thin, limp, single sheet keeps back of a plane wave that meets it head-on (the mass law):
 *
 *   R = 10 lg(1 + (π f m/(ρc))²)
 *
 * The sheet is moved by the difference of the pressures on its two sides, and is nothing but mass. Where it keeps back much, twice the
 * mass or twice the frequency adds 6 dB.
 *
 * @param massKgM2     mass of a square metre, 0 … 10 000 kg/m²
 * @param frequencyHz  above 0 to 1 000 000 Hz
 * @param air          the medium on both sides
 * @returns            R, dB, 0 or more
 * @throws RangeError  for an argument outside its range
 * Source:   Kinsler, Frey, Coppens & Sanders, transmission through a thin partition at normal incidence.
 * Left out: stiffness, a second leaf, edges and gaps. Sound from all sides is kept back some 5 dB less, with the same slope.
 */
export function massLawDb(massKgM2: number, frequencyHz: number, air: Air): number {
  requireInRange('massKgM2', massKgM2, { min: 0, max: 10_000, unit: 'kg/m²' })
  requireInRange('frequencyHz', frequencyHz, { above: 0, max: 1e6, unit: 'Hz' })
  const { densityKgM3, speedOfSoundMps } = requireAir(air)
  return 10 * Math.log10(1 + ((Math.PI * frequencyHz * massKgM2) / (densityKgM3 * speedOfSoundMps)) ** 2)
}
