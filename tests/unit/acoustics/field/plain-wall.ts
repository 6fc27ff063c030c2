/** The share that a wall of admittance b takes of sound from all sides, angle by angle: ∫ α(t) 2t dt with t = s², which is steep along the wall. */
function shareOf(b: number): number {
  const steps = 2000
  let sum = 0
  for (let i = 0; i < steps; i++) {
    const s = (i + 0.5) / steps
    const t = s * s
    sum += (1 - ((t - b) / (t + b)) ** 2) * 2 * t * 2 * s
  }
  return sum / steps
}

const known = new Map<number, number>()

/** The real admittance of a wall that takes `alpha` of sound from all sides, for comparison with the module's: by bisection. */
export function plainAdmittance(alpha: number): number {
  const found = known.get(alpha)
  if (found !== undefined) return found
  let [low, high] = [0, 0.638]
  for (let step = 0; step < 40; step++) {
    const middle = (low + high) / 2
    if (shareOf(middle) < alpha) low = middle
    else high = middle
  }
  known.set(alpha, low)
  return low
}
