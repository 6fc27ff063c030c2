/** A complex number. With the time factor e^{+jωt} of this module, a delay τ is e^{−jωτ} and an outgoing wave is e^{−jkr}/r. */
export type Complex = { re: number; im: number }

/** Complex number from magnitude (any unit) and phase (rad). */
export const fromPolar = (magnitude: number, phaseRad: number): Complex => ({
  re: magnitude * Math.cos(phaseRad),
  im: magnitude * Math.sin(phaseRad),
})

/** Sum a + b. */
export const add = (a: Complex, b: Complex): Complex => ({ re: a.re + b.re, im: a.im + b.im })

/** Product a · b. */
export const multiply = (a: Complex, b: Complex): Complex => ({
  re: a.re * b.re - a.im * b.im,
  im: a.re * b.im + a.im * b.re,
})

/** Product of a complex number and a real factor. */
export const scale = (a: Complex, factor: number): Complex => ({ re: a.re * factor, im: a.im * factor })

/** Quotient a / b; b must not be zero. */
export function divide(a: Complex, b: Complex): Complex {
  const norm = b.re * b.re + b.im * b.im
  return { re: (a.re * b.re + a.im * b.im) / norm, im: (a.im * b.re - a.re * b.im) / norm }
}

/** Magnitude |a|. */
export const magnitude = (a: Complex): number => Math.hypot(a.re, a.im)

/** Squared magnitude |a|². */
export const squaredMagnitude = (a: Complex): number => a.re * a.re + a.im * a.im
