import { contourLevelDb } from '../../acoustics/index.ts'

/** The frequencies of the standard's table: nominal third octaves, Hz. */
export const contourFrequenciesHz: readonly number[] = [
  20, 25, 31.5, 40, 50, 63, 80, 100, 125, 160, 200, 250, 315, 400, 500, 630, 800, 1000, 1250, 1600, 2000, 2500, 3150,
  4000, 5000, 6300, 8000, 10000, 12500,
]

/** The contours that are always drawn, phon. */
export const drawnPhons = [20, 40, 60, 80] as const

/** Loudness level of the threshold of hearing, phon. */
export const thresholdPhon = 2.4

/** Loudness levels for which the standard states its contours, phon: from, to, and to above `upperFromHz`. */
export const statedPhons = { from: 20, to: 90, upperTo: 80, upperFromHz: 4000 } as const

/** Where the lines are drawn through: the table's frequencies and three between each two of them, Hz. */
const curveFrequenciesHz = contourFrequenciesHz.flatMap((frequencyHz, index) => {
  const nextHz = contourFrequenciesHz[index + 1]
  if (nextHz === undefined) return [frequencyHz]
  return [0, 1, 2, 3].map((step) => frequencyHz * (nextHz / frequencyHz) ** (step / 4))
})

export type CurvePoint = { x: number; y: number }

/** A contour as a line: frequency (Hz) and level (dB re 20 µPa). */
export const contourCurve = (phon: number): CurvePoint[] =>
  curveFrequenciesHz.map((x) => ({ x, y: contourLevelDb(phon, x) }))

/** A contour in the part for which the standard states it, and in the part where its formula is carried on. */
export function contourParts(phon: number): { stated: CurvePoint[]; carriedOn: CurvePoint[] } {
  const curve = contourCurve(phon)
  const { from, to, upperTo, upperFromHz } = statedPhons
  if (phon < from || phon > to) return { stated: [], carriedOn: curve }
  if (phon <= upperTo) return { stated: curve, carriedOn: [] }
  return {
    stated: curve.filter(({ x }) => x <= upperFromHz),
    carriedOn: curve.filter(({ x }) => x >= upperFromHz),
  }
}

/** Levels that a tone may be given, whole dB re 20 µPa: from the threshold of hearing to the loudest contour that the standard states. */
export function toneLevelRangeDb(frequencyHz: number): { min: number; max: number } {
  const { to, upperTo, upperFromHz } = statedPhons
  const loudestPhon = frequencyHz > upperFromHz ? upperTo : to
  // A thousandth of a dB against rounding: 2.4 phon at 1 kHz is 2.4 dB.
  return {
    min: Math.ceil(contourLevelDb(thresholdPhon, frequencyHz) - 0.001),
    max: Math.floor(contourLevelDb(loudestPhon, frequencyHz) + 0.001),
  }
}
