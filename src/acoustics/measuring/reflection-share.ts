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
  /** Reflection factors found, 0 … 1, one a path. */
  factors: number[]
  /** Scatter of the detail around the model, rms, dB. */
  restDb: number
}

/** Where the model is fitted, Hz: a loudspeaker alone changes smoothly there. */
const fittedHz = { from: 40, to: 630 } as const
/** Reflection factors that are tried. */
const factorSteps = Array.from({ length: 21 }, (_, i) => i / 20)
/** Terms of the smooth part: level, slope and curvature over the logarithm of frequency. */
const smoothTerms = 3
/** 95 % point of F with 1 and many degrees of freedom. */
const widening = 4

/**
 * How much of front less behind, summed over a range, one reflection at each of two places makes.
 *
 *   D(f) = a + b x + c x² + 20 lg |1 + ρ_f g_f e^{−jkΔ_f}| − 20 lg |1 + ρ_b g_b e^{−jkΔ_b}|,  x = lg (f / 160 Hz),  g = r / (r + Δ)
 *
 * The smooth part stands for loudspeaker and distance, and is found by least squares for each pair of reflection factors ρ; the pair that
 * leaves the least is taken, and all that leave hardly more make the interval. The phase of a reflection is that of a hard wall.
 *
 * @param detail  front less behind in detailBands
 * @param bands   the same in third octaves, with the levels of both
 * @param paths   at most one for each place, at least one
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
  const points = detailBands.flatMap(({ centreHz }, band) => {
    const estimate = detail[band]
    return estimate && centreHz >= fittedHz.from && centreHz <= fittedHz.to ? [{ centreHz, levelDb: estimate.levelDb }] : []
  })
  if (points.length < 4 * smoothTerms) return null
  const smooth = points.map(({ centreHz }) => {
    const x = Math.log10(centreHz / 160)
    return [1, x, x * x]
  })
  const [front, behind] = (['front', 'behind'] as const).map((place) => paths.find((path) => path.place === place))
  const effects = [front, behind].map((path) =>
    (path ? factorSteps : [0]).map((factor) => points.map(({ centreHz }) => effectDb(path, factor, centreHz, c))),
  )
  const tried: { factors: [number, number]; rest: number }[] = []
  for (const [i, ofFront] of (effects[0] ?? []).entries()) {
    for (const [j, ofBehind] of (effects[1] ?? []).entries()) {
      const left = points.map(({ levelDb }, n) => levelDb - (ofFront[n] as number) + (ofBehind[n] as number))
      tried.push({ factors: [factorSteps[i] as number, factorSteps[j] as number], rest: restOfSmooth(smooth, left) })
    }
  }
  const best = tried.reduce((least, each) => (each.rest < least.rest ? each : least))
  const freedom = points.length - smoothTerms - paths.length
  const share = ({ factors }: { factors: [number, number] }): number =>
    sumEffectDb(bands, range, 'front', front, factors[0], c) - sumEffectDb(bands, range, 'behind', behind, factors[1], c)
  const likely = tried.filter(({ rest }) => rest <= best.rest * (1 + widening / freedom)).map(share)
  const differenceDb = share(best)
  return {
    differenceDb,
    halfDb: Math.max(0.5, ...likely.map((each) => Math.abs(each - differenceDb))),
    factors: [front, behind].flatMap((path, i) => (path ? [best.factors[i] as number] : [])),
    restDb: Math.sqrt(best.rest / points.length),
  }
}

/** Level of direct and reflected sound together against the direct one. */
function effectDb(path: ReflectionPath | undefined, factor: number, frequencyHz: number, c: number): number {
  return path ? 10 * Math.log10(effectPower(path, factor, frequencyHz, c)) : 0
}

function effectPower({ extraM, directM }: ReflectionPath, factor: number, frequencyHz: number, c: number): number {
  const reflected = (factor * directM) / (directM + extraM)
  const phaseRad = (2 * Math.PI * frequencyHz * extraM) / c
  // A dip is filled by what comes from elsewhere: never deeper than 30 dB.
  return Math.max(1e-3, 1 + reflected ** 2 + 2 * reflected * Math.cos(phaseRad))
}

/** By how much a reflection changes the summed power of a range at one place, dB. */
function sumEffectDb(
  bands: readonly ComparedBand[],
  range: { from: number; to: number },
  place: 'front' | 'behind',
  path: ReflectionPath | undefined,
  factor: number,
  c: number,
): number {
  if (!path) return 0
  let withIt = 0
  let without = 0
  for (const [i, { nominalHz, levels }] of bands.entries()) {
    const band = recordingBands[i]
    if (!band || !levels || nominalHz < range.from || nominalHz > range.to) continue
    const steps = 8
    let effect = 0
    for (let n = 0; n < steps; n++) {
      const frequencyHz = band.lowerHz * (band.upperHz / band.lowerHz) ** ((n + 0.5) / steps)
      effect += effectPower(path, factor, frequencyHz, c) / steps
    }
    const power = 10 ** (levels[place].levelDb / 10)
    withIt += power
    without += power / effect
  }
  return without > 0 ? 10 * Math.log10(withIt / without) : 0
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
