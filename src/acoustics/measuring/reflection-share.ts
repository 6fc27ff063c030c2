import type { Air } from '../medium/air.ts'
import { requireAir } from '../medium/air.ts'
import type { DetailEstimates } from './detail-difference.ts'
import type { ComparedBand } from './level-difference.ts'
import { detailBands, recordingBands } from './recording-bands.ts'
import type { ReflectionPath } from './reflection-paths.ts'

/** What entered reflections do to front less behind of a range of bands. */
export type ReflectionShare = {
  /** Their part of the difference, dB, and half of its 95 % interval. */
  differenceDb: number
  halfDb: number
  /** Reflection factor found for each way, 0 … 1. */
  factors: number[]
  /** Scatter of the detail around the model, rms, dB. */
  restDb: number
}

/** Where the model is fitted, Hz: a loudspeaker alone changes smoothly there. */
const fittedHz = { from: 40, to: 630 } as const
/** Reflection factors that are tried: closely for the best, coarsely for the interval. */
const fineSteps = Array.from({ length: 21 }, (_, i) => i / 20)
const coarseSteps = Array.from({ length: 11 }, (_, i) => i / 10)
const mostRounds = 6
/** Terms of the smooth part: level, slope and curvature over the logarithm of frequency. */
const smoothTerms = 3
/** 95 % point of F with 1 and many degrees of freedom. */
const widening = 4
/** A dip is filled by what comes from elsewhere: never deeper than 30 dB. */
const leastPower = 1e-3

/** One frequency of the detail: what was measured, the smooth terms, and the reflected part of each way for a factor of 1. */
type Point = { levelDb: number; smooth: number[]; re: number[]; im: number[] }

/**
 * How much of front less behind, summed over a range, the reflections of the entered ways make.
 *
 *   D(f) = a + b x + c x² + 20 lg |1 + Σ ρ g e^{−jkΔ}|_front − 20 lg |1 + Σ ρ g e^{−jkΔ}|_behind,  x = lg (f / 160 Hz),  g = r / (r + Δ)
 *
 * The smooth part stands for loudspeaker and distance, and is found by least squares for each set of reflection factors ρ. They are
 * bettered one by one until nothing gets better; then each is held at other values and the rest bettered again, and all sets that
 * leave hardly more than the best make the interval. What a reflection does smoothly cannot be told from the loudspeaker: the interval
 * is then wide. The phase of a reflection is that of a hard wall.
 *
 * @param detail  front less behind in detailBands
 * @param bands   the same in third octaves, with the levels of both
 * @param paths   the ways, at least one
 * @param range   nominal frequencies of the first and the last band summed, Hz
 * @param air     gives the speed of sound
 * @returns  null if there is too little detail to fit
 * @throws RangeError if the air is not sound
 */
export function reflectionShare(
  detail: DetailEstimates,
  bands: readonly ComparedBand[],
  paths: readonly ReflectionPath[],
  range: { from: number; to: number },
  air: Air,
): ReflectionShare | null {
  const c = requireAir(air).speedOfSoundMps
  const points = detailBands.flatMap(({ centreHz }, band): Point[] => {
    const estimate = detail[band]
    if (!estimate || centreHz < fittedHz.from || centreHz > fittedHz.to) return []
    const x = Math.log10(centreHz / 160)
    const waves = paths.map((path) => waveOf(path, centreHz, c))
    return [
      {
        levelDb: estimate.levelDb,
        smooth: [1, x, x * x],
        re: waves.map(({ re }) => re),
        im: waves.map(({ im }) => im),
      },
    ]
  })
  const freedom = points.length - smoothTerms - paths.length
  if (freedom < 2 * smoothTerms) return null
  const restOf = (factors: number[]): number =>
    restOfSmooth(
      points.map(({ smooth }) => smooth),
      points.map((point) => point.levelDb - effectDb(point, factors, paths)),
    )
  const best = bettered(
    paths.map(() => 0.5),
    restOf,
    fineSteps,
  )
  const share = (factors: number[]): number => sumShareDb(bands, range, paths, factors, c)
  const differenceDb = share(best.factors)
  let halfDb = 0.5
  for (const held of paths.keys()) {
    for (const factor of coarseSteps) {
      const start = best.factors.map((each, path) => (path === held ? factor : each))
      const other = bettered(start, restOf, coarseSteps, held)
      if (other.rest <= best.rest * (1 + widening / freedom)) {
        halfDb = Math.max(halfDb, Math.abs(share(other.factors) - differenceDb))
      }
    }
  }
  return { differenceDb, halfDb, factors: best.factors, restDb: Math.sqrt(best.rest / points.length) }
}

/** Betters factors one by one among some steps, but for one that is held. */
function bettered(
  start: number[],
  restOf: (factors: number[]) => number,
  steps: readonly number[],
  held?: number,
): { factors: number[]; rest: number } {
  let best = { factors: start, rest: restOf(start) }
  for (let round = 0; round < mostRounds; round++) {
    const before = best.rest
    for (const path of start.keys()) {
      if (path === held) continue
      for (const step of steps) {
        const factors = best.factors.map((factor, each) => (each === path ? step : factor))
        const rest = restOf(factors)
        if (rest < best.rest) best = { factors, rest }
      }
    }
    if (best.rest >= before * (1 - 1e-6)) break
  }
  return best
}

/** A way's reflection for a factor of 1, against the direct sound. */
function waveOf({ extraM, directM }: ReflectionPath, frequencyHz: number, c: number): { re: number; im: number } {
  const gain = directM / (directM + extraM)
  const phaseRad = (2 * Math.PI * frequencyHz * extraM) / c
  return { re: gain * Math.cos(phaseRad), im: -gain * Math.sin(phaseRad) }
}

/** Power of direct sound and reflections at a place against the direct sound alone. */
function powerAt(
  place: 'front' | 'behind',
  { re, im }: Pick<Point, 're' | 'im'>,
  factors: readonly number[],
  paths: readonly ReflectionPath[],
): number {
  let sumRe = 1
  let sumIm = 0
  for (let path = 0; path < paths.length; path++) {
    if (paths[path]?.place !== place) continue
    sumRe += (factors[path] as number) * (re[path] as number)
    sumIm += (factors[path] as number) * (im[path] as number)
  }
  return Math.max(leastPower, sumRe * sumRe + sumIm * sumIm)
}

const effectDb = (point: Point, factors: readonly number[], paths: readonly ReflectionPath[]): number =>
  10 * Math.log10(powerAt('front', point, factors, paths) / powerAt('behind', point, factors, paths))

/** By how much reflections change front less behind of the summed power of a range, dB. */
function sumShareDb(
  bands: readonly ComparedBand[],
  range: { from: number; to: number },
  paths: readonly ReflectionPath[],
  factors: readonly number[],
  c: number,
): number {
  const change = (place: 'front' | 'behind'): number => {
    let withThem = 0
    let without = 0
    for (const [i, { nominalHz, levels }] of bands.entries()) {
      const band = recordingBands[i]
      if (!band || !levels || nominalHz < range.from || nominalHz > range.to) continue
      const steps = 8
      let effect = 0
      for (let n = 0; n < steps; n++) {
        const frequencyHz = band.lowerHz * (band.upperHz / band.lowerHz) ** ((n + 0.5) / steps)
        const waves = paths.map((path) => waveOf(path, frequencyHz, c))
        effect +=
          powerAt(place, { re: waves.map(({ re }) => re), im: waves.map(({ im }) => im) }, factors, paths) / steps
      }
      const power = 10 ** (levels[place].levelDb / 10)
      withThem += power
      without += power / effect
    }
    return without > 0 ? 10 * Math.log10(withThem / without) : 0
  }
  return change('front') - change('behind')
}

/** Sum of squares that a straight combination of some terms leaves of a series (normal equations of three terms, scaled to be sound). */
function restOfSmooth(terms: number[][], values: number[]): number {
  const n = smoothTerms
  const matrix = Array.from({ length: n }, (_, i) =>
    Array.from({ length: n + 1 }, (_, j) =>
      terms.reduce((sum, row, k) => sum + (row[i] as number) * (j < n ? (row[j] as number) : (values[k] as number)), 0),
    ),
  )
  for (let i = 0; i < n; i++) {
    const pivot = matrix[i] as number[]
    for (let k = i + 1; k < n; k++) {
      const row = matrix[k] as number[]
      const factor = (row[i] as number) / (pivot[i] as number)
      for (let j = i; j <= n; j++) row[j] = (row[j] as number) - factor * (pivot[j] as number)
    }
  }
  const solution = new Array<number>(n).fill(0)
  for (let i = n - 1; i >= 0; i--) {
    const row = matrix[i] as number[]
    let right = row[n] as number
    for (let j = i + 1; j < n; j++) right -= (row[j] as number) * (solution[j] as number)
    solution[i] = right / (row[i] as number)
  }
  return values.reduce((sum, value, k) => {
    const fitted = solution.reduce((total, factor, i) => total + factor * (terms[k]?.[i] as number), 0)
    return sum + (value - fitted) ** 2
  }, 0)
}
