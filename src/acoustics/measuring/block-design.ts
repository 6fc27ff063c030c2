import FFT from 'fft.js'
import { aWeightingDb, cWeightingDb } from '../hearing/frequency-weighting.ts'
import { thirdOctaveAttenuationDb } from '../signals/third-octave-levels.ts'
import { detailBands, heldCount, recordingBands } from './recording-bands.ts'

/** Mean of the squares of a Hann window's values. */
export const hannPower = 3 / 8
/** Shortest window, s: the lines then lie no more than 1 Hz apart, and 25 Hz has six of them. */
const shortestWindowS = 1
/** Ratio of frequencies beyond which a band filter, there 95 dB down, counts as shut. */
const reach = 1.8

/** From this line on, where a band is hundreds of lines wide, sixteen lines share one weight. */
const singleLines = 1024
const sharedBy = 16

/** Weights of neighbouring lines or cells, from one on. */
export type Weights = { from: number; weights: Float64Array }

/** The samples of a block at a sample rate: the power of two that lasts 1 s or more, and at least half of it less than 1 s. */
export const windowLength = (sampleRateHz: number): number => 2 ** Math.ceil(Math.log2(shortestWindowS * sampleRateHz))

/** What every block of a sample rate is analysed with. */
export type BlockDesign = {
  /** Samples of a block, lines of its spectrum from 0 Hz up, and cells: single lines, then sixteen together. */
  length: number
  lineCount: number
  cellCount: number
  fft: FFT
  /** Hann. */
  window: Float64Array
  /** Weights of cells for the held third octaves and for A and C, of lines for the held detail bands. */
  bands: Weights[]
  weighted: Weights[]
  details: Weights[]
}

/** The designs used last: a recording in stretches asks for the same one again and again. */
const known = new Map<number, BlockDesign>()
const mostKnown = 2

/**
 * The design for a sample rate. The same rate gives the same object; it holds work space of nobody.
 *
 * @param sampleRateHz  8000 to 192 000 Hz
 * @throws RangeError if it is outside that
 */
export function blockDesign(sampleRateHz: number): BlockDesign {
  let design = known.get(sampleRateHz)
  if (!design) {
    design = makeDesign(sampleRateHz)
    if (known.size >= mostKnown) known.clear()
    known.set(sampleRateHz, design)
  }
  return design
}

function makeDesign(sampleRateHz: number): BlockDesign {
  const heldBands = recordingBands.slice(0, heldCount(recordingBands, sampleRateHz))
  const heldDetails = detailBands.slice(0, heldCount(detailBands, sampleRateHz))
  const length = windowLength(sampleRateHz)
  const spacingHz = sampleRateHz / length
  const lineCount = length / 2 + 1
  const cellCount = cellOf(lineCount - 1) + 1
  return {
    length,
    lineCount,
    cellCount,
    fft: new FFT(length),
    window: Float64Array.from({ length }, (_, n) => 0.5 - 0.5 * Math.cos((2 * Math.PI * n) / length)),
    bands: heldBands.map((band) => {
      const from = cellOf(Math.max(1, Math.floor(band.centreHz / reach / spacingHz)))
      const to = cellOf(Math.min(lineCount - 1, Math.ceil((band.centreHz * reach) / spacingHz)))
      return weightsOf(from, to, (cell) =>
        cellMean(cell, (line) => 10 ** (-thirdOctaveAttenuationDb(line * spacingHz, band) / 10)),
      )
    }),
    weighted: [aWeightingDb, cWeightingDb].map((weightingDb) =>
      weightsOf(1, cellCount - 1, (cell) => cellMean(cell, (line) => 10 ** (weightingDb(line * spacingHz) / 10))),
    ),
    details: heldDetails.map(({ lowerHz, upperHz }) => {
      const [lower, upper] = [lowerHz / spacingHz, upperHz / spacingHz]
      const share = (line: number) => Math.max(0, Math.min(upper, line + 0.5) - Math.max(lower, line - 0.5))
      return weightsOf(Math.round(lower), Math.min(lineCount - 1, Math.round(upper)), share)
    }),
  }
}

const cellOf = (line: number): number =>
  line < singleLines ? line : singleLines + Math.floor((line - singleLines) / sharedBy)

/** Mean of a weight over the lines of a cell. */
function cellMean(cell: number, weight: (line: number) => number): number {
  if (cell < singleLines) return weight(cell)
  const first = singleLines + (cell - singleLines) * sharedBy
  let sum = 0
  for (let i = 0; i < sharedBy; i++) sum += weight(first + i)
  return sum / sharedBy
}

/** Sums lines into cells. */
export function gatherCells(lines: Float64Array, cells: Float64Array): void {
  const singles = Math.min(singleLines, lines.length)
  cells.set(lines.subarray(0, singles))
  for (let cell = singles, line = singles; line < lines.length; cell++) {
    const end = Math.min(lines.length, line + sharedBy)
    let sum = 0
    for (; line < end; line++) sum += lines[line] as number
    cells[cell] = sum
  }
}

const weightsOf = (from: number, to: number, weight: (index: number) => number): Weights => ({
  from,
  weights: Float64Array.from({ length: to - from + 1 }, (_, i) => weight(from + i)),
})

/** Sum of lines or cells, each by its weight. */
export function weightedSum(lines: Float64Array, { from, weights }: Weights): number {
  let sum = 0
  for (let i = 0; i < weights.length; i++) sum += (weights[i] as number) * (lines[from + i] as number)
  return sum
}
