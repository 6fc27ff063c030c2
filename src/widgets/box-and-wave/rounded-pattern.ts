import type { BoxPattern } from '../../engine/questions/box/box-pattern.ts'

/** The pattern with fewer digits, so that the page it travels in stays small: levels to 0.001 dB, the rear to 1e-6 of the front. */
export function roundedPattern(pattern: BoxPattern): BoxPattern {
  const rounded = (values: number[], digits: number) => values.map((value) => Number(value.toFixed(digits)))
  return {
    ...pattern,
    frontGainDb: rounded(pattern.frontGainDb, 3),
    sideDb: rounded(pattern.sideDb, 3),
    rearRe: rounded(pattern.rearRe, 6),
    rearIm: rounded(pattern.rearIm, 6),
  }
}
