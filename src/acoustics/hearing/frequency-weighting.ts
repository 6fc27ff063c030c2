import { requireInRange } from '../numeric-range.ts'

/*
 * Poles from the design goals of the standard: C is 3 dB (a factor D² = ½) below its 1 kHz value at fL and fH; the two
 * further poles of A are those of two coupled first-order high-passes with the corner fA.
 */
const referenceHz = 1000
const lowCornerHz = 10 ** 1.5
const highCornerHz = 10 ** 3.9
const coupledCornerHz = 10 ** 2.45

const halfPowerAmplitude = Math.SQRT1_2
const product = (lowCornerHz * highCornerHz) ** 2
const linear =
  (referenceHz ** 2 + product / referenceHz ** 2 - halfPowerAmplitude * (lowCornerHz ** 2 + highCornerHz ** 2)) /
  (1 - halfPowerAmplitude)
const root = Math.sqrt(linear ** 2 - 4 * product)

/** The pole frequencies f₁ … f₄ of the A and C weightings, Hz: 20.60, 107.7, 737.9, 12 194. Source: IEC 61672-1, Annex E. */
export const weightingPolesHz = {
  f1: Math.sqrt((-linear - root) / 2),
  f2: ((3 - Math.sqrt(5)) / 2) * coupledCornerHz,
  f3: ((3 + Math.sqrt(5)) / 2) * coupledCornerHz,
  f4: Math.sqrt((-linear + root) / 2),
} as const

/**
 * Frequency weighting A:  A(f) = 20 lg [ f₄² f⁴ / ((f² + f₁²) (f² + f₂²)^½ (f² + f₃²)^½ (f² + f₄²)) ] − A₁₀₀₀
 *
 * @param frequencyHz  above 0 to 1 000 000 Hz
 * @returns  dB, 0 at 1 kHz
 * @throws   RangeError if the frequency is outside its range
 * Source:   IEC 61672-1:2013, Annex E, with the poles of the design goals instead of rounded ones (within 0.01 dB).
 */
export function aWeightingDb(frequencyHz: number): number {
  return unnormalisedA(requireFrequency(frequencyHz)) - unnormalisedA(referenceHz)
}

/**
 * Frequency weighting C:  C(f) = 20 lg [ f₄² f² / ((f² + f₁²) (f² + f₄²)) ] − C₁₀₀₀
 *
 * @param frequencyHz  above 0 to 1 000 000 Hz
 * @returns  dB, 0 at 1 kHz
 * @throws   RangeError if the frequency is outside its range
 * Source:   IEC 61672-1:2013, Annex E.
 */
export function cWeightingDb(frequencyHz: number): number {
  return unnormalisedC(requireFrequency(frequencyHz)) - unnormalisedC(referenceHz)
}

// Quotients of f and a pole instead of the book's products: the same value, and no overflow or underflow at either end.
const unnormalisedC = (f: number): number => {
  const { f1, f4 } = weightingPolesHz
  return -20 * (Math.log10(1 + (f1 / f) ** 2) + Math.log10(1 + (f / f4) ** 2))
}

const unnormalisedA = (f: number): number => {
  const { f2, f3 } = weightingPolesHz
  return unnormalisedC(f) - 10 * (Math.log10(1 + (f2 / f) ** 2) + Math.log10(1 + (f3 / f) ** 2))
}

const requireFrequency = (frequencyHz: number): number =>
  requireInRange('frequencyHz', frequencyHz, { above: 0, max: 1e6, unit: 'Hz' })
