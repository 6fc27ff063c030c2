import type { Air } from '../medium/air.ts'
import { requireAir } from '../medium/air.ts'
import { requireInRange } from '../numeric-range.ts'

/**
 * Frequencies at which two arrivals of the same polarity meet in opposite phase: the path difference is an odd number
 * of half wavelengths,  f = (2n + 1) c / (2 Δ),  n = 0, 1, 2, …
 *
 * @param pathDifferenceM  Δ, above 0 to 1000 m
 * @param upToHz           highest frequency to list, itself included, above 0 to 1 000 000 Hz
 * @param air              gives the speed of sound c
 * @returns  Hz, rising; empty if the first lies above upToHz
 * @throws   RangeError if an argument is outside its range
 * Source:   textbook; the phase of the difference is 2πfΔ/c.
 */
export function dipsHz(pathDifferenceM: number, upToHz: number, air: Air): number[] {
  return multiples(pathDifferenceM, upToHz, air, 1)
}

/**
 * Frequencies at which two arrivals of the same polarity meet in phase again: the path difference is a whole number of
 * wavelengths,  f = n c / Δ,  n = 1, 2, 3, …
 *
 * @param pathDifferenceM  Δ, above 0 to 1000 m
 * @param upToHz           highest frequency to list, itself included, above 0 to 1 000 000 Hz
 * @param air              gives the speed of sound c
 * @returns  Hz, rising; empty if the first lies above upToHz
 * @throws   RangeError if an argument is outside its range
 * Source:   textbook; the phase of the difference is 2πfΔ/c.
 */
export function risesHz(pathDifferenceM: number, upToHz: number, air: Air): number[] {
  return multiples(pathDifferenceM, upToHz, air, 2)
}

function multiples(pathDifferenceM: number, upToHz: number, air: Air, firstHalfWaves: 1 | 2): number[] {
  requireInRange('pathDifferenceM', pathDifferenceM, { above: 0, max: 1000, unit: 'm' })
  requireInRange('upToHz', upToHz, { above: 0, max: 1e6, unit: 'Hz' })
  const c = requireAir(air).speedOfSoundMps
  const frequencies: number[] = []
  for (let halfWaves = firstHalfWaves as number; ; halfWaves += 2) {
    const frequencyHz = (halfWaves * c) / (2 * pathDifferenceM)
    if (frequencyHz > upToHz) return frequencies
    frequencies.push(frequencyHz)
  }
}
