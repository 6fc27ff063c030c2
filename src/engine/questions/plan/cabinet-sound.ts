/** What one cabinet under no drive sends to one place, by line: all of it below the join; above it what adds in step and what by energy. */
export type CabinetSound = {
  re: Float64Array
  im: Float64Array
  earlyRe: Float64Array
  earlyIm: Float64Array
  energy: Float64Array
}

/** Nothing, by so many lines. */
export const silence = (lines: number): CabinetSound => ({
  re: new Float64Array(lines),
  im: new Float64Array(lines),
  earlyRe: new Float64Array(lines),
  earlyIm: new Float64Array(lines),
  energy: new Float64Array(lines),
})

/** Adds a pressure under a drive to a sum, at one line. */
export function addDriven(
  sumRe: Float64Array,
  sumIm: Float64Array,
  re: number,
  im: number,
  drive: { re: number; im: number },
  line: number,
): void {
  sumRe[line] = (sumRe[line] as number) + re * drive.re - im * drive.im
  sumIm[line] = (sumIm[line] as number) + re * drive.im + im * drive.re
}
