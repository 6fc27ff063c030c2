/**
 * One octave or third-octave band. `index` counts bands from 1 kHz (index 0); `nominalHz` is the printed label,
 * `centreHz` the exact mid-band frequency, `lowerHz` and `upperHz` the band edges.
 */
export type Band = { index: number; nominalHz: number; centreHz: number; lowerHz: number; upperHz: number }

/** Labels of the ten third octaves in a decade. Source: IEC 61260-1, Annex E (the R10 preferred numbers). */
const nominalMantissas = [1, 1.25, 1.6, 2, 2.5, 3.15, 4, 5, 6.3, 8]

/** Index of the lowest and highest third octave offered: 1 Hz and 100 kHz. */
const lowestIndex = -30
const highestIndex = 20

/**
 * Third-octave bands with the base-ten exact frequencies:  f_m = 1000 · 10^(x/10) Hz,  edges f_m · 10^(±1/20)
 *
 * @param fromNominalHz  label of the lowest band, Hz: 1, 1.25, 1.6, 2, … 31.5, … 100 000
 * @param toNominalHz    label of the highest band, Hz; not below fromNominalHz
 * @returns  bands in rising order, both ends included
 * @throws   RangeError if a label is unknown, or from is above to
 * Source:   IEC 61260-1:2014, Formulas (1) to (5). Neighbours share their edge exactly.
 */
export function thirdOctaveBands(fromNominalHz: number, toNominalHz: number): Band[] {
  return bandsBetween(fromNominalHz, toNominalHz, allThirdOctaves, 'third-octave')
}

/**
 * Octave bands with the base-ten exact frequencies:  f_m = 1000 · 10^(3x/10) Hz,  edges f_m · 10^(±3/20)
 *
 * @param fromNominalHz  label of the lowest band, Hz: 1, 2, 4, 8, 16, 31.5, 63, 125, … 63 000
 * @param toNominalHz    label of the highest band, Hz; not below fromNominalHz
 * @returns  bands in rising order, both ends included
 * @throws   RangeError if a label is unknown, or from is above to
 * Source:   IEC 61260-1:2014, Formulas (1) to (5). Neighbours share their edge exactly.
 */
export function octaveBands(fromNominalHz: number, toNominalHz: number): Band[] {
  return bandsBetween(fromNominalHz, toNominalHz, allOctaves, 'octave')
}

const allThirdOctaves: Band[] = []
for (let index = lowestIndex; index <= highestIndex; index++) allThirdOctaves.push(makeBand(index, 1))

// An octave has the mid-band frequency, and so the label, of every third third octave.
const allOctaves: Band[] = []
for (let index = lowestIndex / 3; 3 * index <= highestIndex; index++) allOctaves.push(makeBand(index, 3))

function makeBand(index: number, thirds: 1 | 3): Band {
  const tenths = 30 + index * thirds
  const mantissa = nominalMantissas[tenths % 10] ?? 1
  return {
    index,
    nominalHz: Number((mantissa * 10 ** Math.floor(tenths / 10)).toPrecision(3)),
    centreHz: 10 ** (tenths / 10),
    lowerHz: 10 ** ((tenths - thirds / 2) / 10),
    upperHz: 10 ** ((tenths + thirds / 2) / 10),
  }
}

function bandsBetween(fromNominalHz: number, toNominalHz: number, all: Band[], kind: string): Band[] {
  const from = positionOf('fromNominalHz', fromNominalHz, all, kind)
  const to = positionOf('toNominalHz', toNominalHz, all, kind)
  if (from > to) {
    throw new RangeError(
      `fromNominalHz is ${fromNominalHz} and toNominalHz is ${toNominalHz}; allowed is from at or below to`,
    )
  }
  return all.slice(from, to + 1).map((band) => ({ ...band }))
}

function positionOf(name: string, nominalHz: number, all: Band[], kind: string): number {
  const position = all.findIndex((band) => band.nominalHz === nominalHz)
  if (position < 0) {
    const labels = all.map((band) => band.nominalHz).join(', ')
    throw new RangeError(`${name} is ${String(nominalHz)}; allowed is a nominal ${kind} frequency in Hz: ${labels}`)
  }
  return position
}
