import type { Air } from '../medium/air.ts'
import { requireInRange } from '../numeric-range.ts'
import { type Hall, hallAbsorption, hallVolumeM3 } from './hall.ts'

/** Characteristic impedance to which free-field levels and power levels are equal in number, Pa·s/m: (20 µPa)²/(1 pW/m²). */
const levelImpedance = 400

/**
 * Room constant:  R = (S ᾱ + 4mV)/(1 − ᾱ), m². The power that a source feeds into the reverberant field is what is left after the
 * first reflection, W (1 − ᾱ); the field loses (c/4) E (S ᾱ + 4mV).
 *
 * @returns m²; Infinity for ᾱ = 1, where nothing comes back
 * @throws RangeError for arguments out of range, or if neither walls nor air absorb anything
 * Source: Hopkins & Stryker, Proc. IRE 36 (1948); Beranek & Mellow, chapter on sound in enclosures. 4mV: see hallAbsorption.
 */
export function roomConstantM2(hall: Hall, frequencyHz: number, air: Air): number {
  const { surfaceM2, absorption, airM2 } = hallAbsorption(hall, frequencyHz, air)
  const areaM2 = requireInRange('absorption area of walls and air', surfaceM2 * absorption + airM2, {
    above: 0,
    unit: 'm²',
  })
  return absorption === 1 ? Number.POSITIVE_INFINITY : areaM2 / (1 - absorption)
}

/**
 * Level of the reverberant field, direct sound not included, at any place:
 *
 *   L_p = L_W + 10 lg(4/R) + 10 lg(ρc/400),  R = (S ᾱ + 4mV)/(1 − ᾱ)
 *
 * The room constant R, not the absorption area A = S ᾱ + 4mV, because the direct sound is counted by itself: energy that has met no
 * wall is not reverberant. For ᾱ = 0.1 the level is 0.5 dB below that with A. Outside a small ᾱ a field is less even than the formula.
 *
 * @param powerLevelDb  L_W, dB re 1 pW
 * @param hall          mean absorption 0 … 1
 * @param frequencyHz   above 0 to 1 000 000 Hz
 * @param air           absorption 4mV, and ρc (+0.14 dB at 20 °C)
 * @returns  dB re 20 µPa; −Infinity for ᾱ = 1
 * @throws   RangeError for an argument outside its range
 * Source:   Hopkins & Stryker, Proc. IRE 36 (1948), 315–335, second term; Beranek & Mellow.
 */
export function reverberantLevelDb(powerLevelDb: number, hall: Hall, frequencyHz: number, air: Air): number {
  requireInRange('powerLevelDb', powerLevelDb, { unit: 'dB' })
  const impedance = air.densityKgM3 * air.speedOfSoundMps
  return powerLevelDb + 10 * Math.log10((4 / roomConstantM2(hall, frequencyHz, air)) * (impedance / levelImpedance))
}

/**
 * Distance on the source's axis at which direct and reverberant sound are equally strong:  r_c = √(Q R/(16π)),  Q = 10^(DI/10).
 *
 * @param directivityIndexDb  DI, dB
 * @param hall                mean absorption 0 … 1
 * @param frequencyHz         above 0 to 1 000 000 Hz
 * @param air                 absorption 4mV
 * @returns  m; Infinity for ᾱ = 1
 * @throws   RangeError for an argument outside its range
 * Source:   Hopkins & Stryker 1948: Q/(4πr²) = 4/R.
 */
export function criticalDistanceM(directivityIndexDb: number, hall: Hall, frequencyHz: number, air: Air): number {
  requireInRange('directivityIndexDb', directivityIndexDb, { min: -300, max: 300, unit: 'dB' })
  return Math.sqrt((10 ** (directivityIndexDb / 10) * roomConstantM2(hall, frequencyHz, air)) / (16 * Math.PI))
}

/**
 * Time in which the reverberation falls by 60 dB:  T = 24 ln 10 · V/(c A)
 *
 *   Eyring (the default):  A = −S ln(1 − ᾱ) + 4mV       Sabine:  A = S ᾱ + 4mV
 *
 * Both agree for small ᾱ; Eyring also holds in a hall that takes much, and gives 0 for ᾱ = 1.
 *
 * @returns  s
 * @throws   RangeError for an argument outside its range, or if neither walls nor air absorb anything
 * Source:   Eyring, J. Acoust. Soc. Am. 1 (1930); Kuttruff, Room Acoustics, Equations (5.23) and (5.25).
 * Accuracy: where absorption sits on one pair of surfaces only, halls ring longer than either formula says.
 */
export function decayTimeS(hall: Hall, frequencyHz: number, air: Air, formula: 'eyring' | 'sabine' = 'eyring'): number {
  const { volumeM3, surfaceM2, absorption, airM2 } = hallAbsorption(hall, frequencyHz, air)
  const walls = formula === 'sabine' ? absorption : -Math.log1p(-absorption)
  const areaM2 = surfaceM2 * walls + airM2
  requireInRange('absorption area of walls and air', Math.min(areaM2, Number.MAX_VALUE), { above: 0, unit: 'm²' })
  return (24 * Math.LN10 * volumeM3) / (air.speedOfSoundMps * areaM2)
}

/**
 * The frequency above which so many resonances overlap that a hall is a matter of statistics:  f = 2000 √(T(f)/V), where it
 * meets itself. Below it the hall is summed image by image.
 *
 * @returns  Hz, 20 … 1000
 * @throws   RangeError for a hall or an Air out of range
 * Source:   Schroeder & Kuttruff, J. Acoust. Soc. Am. 34 (1962), 76; T in s, V in m³.
 */
export function joiningFrequencyHz(hall: Hall, air: Air): number {
  const excess = (frequencyHz: number) =>
    2000 * Math.sqrt(decayTimeS(hall, frequencyHz, air) / hallVolumeM3(hall)) - frequencyHz
  let [low, high] = [20, 1000]
  if (excess(low) <= 0) return low
  if (excess(high) >= 0) return high
  for (let step = 0; step < 40; step++) {
    const middle = (low + high) / 2
    if (excess(middle) > 0) low = middle
    else high = middle
  }
  return (low + high) / 2
}
