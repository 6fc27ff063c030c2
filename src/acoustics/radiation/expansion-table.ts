import type { Complex } from '../complex.ts'
import { type Air, requireAir } from '../medium/air.ts'
import { requireInRange } from '../numeric-range.ts'
import type { DirectionTable } from './direction-table.ts'
import { radiationOf } from './expansion-radiation.ts'
import { neededOrder, orderStrengths } from './order-strengths.ts'
import type { OutgoingExpansion } from './outgoing-expansion.ts'
import type { Radiation } from './radiation.ts'

/** Outgoing expansions of one source at rising frequencies. */
export type ExpansionTable = {
  /** Air in which it was solved. */
  speedOfSoundMps: number
  densityKgM3: number
  centreZM: number
  radiusM: number
  lines: ExpansionLine[]
  /** Levels all round from the last line on, if it was taken that far. */
  directions?: DirectionTable
}

/**
 * One frequency of a table. Of a source that is alike left and right (x → −x) only one harmonic of each pair ±m can be there:
 * cos mφ for even m, sin |m|φ for odd m; it is kept at index n (n + 1)/2 + |m|. A lopsided source keeps both, at n² + n + m.
 */
export type ExpansionLine = {
  frequencyHz: number
  order: number
  lopsided?: true
  re: ArrayLike<number>
  im: ArrayLike<number>
}

/** The one of ±m whose harmonic is alike left and right. */
const sameBothSides = (m: number): number => (m % 2 === 0 ? m : -m)

/** Where the terms that are kept of a source alike left and right stand among all: n (n + 1)/2 + m → n² + n ± m. */
function alikePlaces(order: number): Int32Array {
  const known = placesByOrder.get(order)
  if (known) return known
  const places = new Int32Array(keptTerms({ order }))
  for (let n = 0; n <= order; n++) {
    for (let m = 0; m <= n; m++) places[(n * (n + 1)) / 2 + m] = n * n + n + sameBothSides(m)
  }
  placesByOrder.set(order, places)
  return places
}
const placesByOrder = new Map<number, Int32Array>()

/** How many terms a line keeps. */
export const keptTerms = ({ order, lopsided }: Pick<ExpansionLine, 'order' | 'lopsided'>): number =>
  lopsided ? (order + 1) ** 2 : ((order + 1) * (order + 2)) / 2

/** Terms of the other side weaker than this share of the whole, in power, are rounding. */
const alikeShare = 1e-12

/**
 * What is kept of an expansion: without the orders that together have at most `droppedShare` of the r.m.s. pressure on its
 * sphere and, if the source is alike left and right, without the half that it cannot have.
 */
export function expansionLine(expansion: OutgoingExpansion, droppedShare = 1e-3): ExpansionLine {
  const { frequencyHz, re, im } = expansion
  const power = (t: number): number => (re[t] as number) ** 2 + (im[t] as number) ** 2
  const strengths = orderStrengths(re, im, expansion.order)
  const total = strengths.reduce((sum, strength) => sum + strength, 0)
  const order = neededOrder(strengths, droppedShare ** 2, 0)
  let otherSide = 0
  for (let n = 0; n <= order; n++) {
    for (let m = 1; m <= n; m++) otherSide += power(n * n + n - sameBothSides(m))
  }
  if (otherSide > alikeShare * total) {
    const kept = (order + 1) ** 2
    const first = (values: ArrayLike<number>) => Float64Array.from({ length: kept }, (_, t) => values[t] as number)
    return { frequencyHz, order, lopsided: true, re: first(re), im: first(im) }
  }
  const half = (values: ArrayLike<number>) => {
    const kept = new Float64Array(keptTerms({ order }))
    for (let n = 0; n <= order; n++) {
      for (let m = 0; m <= n; m++) kept[(n * (n + 1)) / 2 + m] = values[n * n + n + sameBothSides(m)] as number
    }
    return kept
  }
  return { frequencyHz, order, re: half(re), im: half(im) }
}

/**
 * Radiation at any frequency of a table's range, its expansion interpolated between four neighbouring lines: a cubic in
 * f of b_nm e^{jkR} k₀/k. That is a smooth function of the wavenumber down to 0, with the phase of the distance taken out.
 *
 * @param table        four or more lines, rising
 * @param frequencyHz  from the first to the last line (in the table's air; in another air the same wavenumbers)
 * @param air          the medium
 * @throws RangeError  outside the range
 */
export function tabulatedRadiation(table: ExpansionTable, frequencyHz: number, air: Air): Radiation {
  requireAir(air)
  const { lines, radiusM, centreZM } = table
  requireInRange('table.lines.length', lines.length, { min: 4 })
  // The same wavenumber in the table's air.
  const tableHz = (frequencyHz * table.speedOfSoundMps) / air.speedOfSoundMps
  const [firstHz, lastHz] = [lines[0]?.frequencyHz ?? 0, lines.at(-1)?.frequencyHz ?? 0]
  requireInRange('frequencyHz', tableHz, { min: firstHz * (1 - 1e-12), max: lastHz * (1 + 1e-12), unit: 'Hz' })
  let low = 0
  while (low < lines.length - 2 && (lines[low + 1]?.frequencyHz ?? 0) <= tableHz) low++
  const start = Math.min(lines.length - 4, Math.max(0, low - 1))
  const used = lines.slice(start, start + 4)
  const weights = lagrangeWeights(
    used.map((line) => line.frequencyHz),
    tableHz,
  )
  const order = Math.max(...used.map((line) => line.order))
  const re = new Float64Array((order + 1) ** 2)
  const im = new Float64Array((order + 1) ** 2)
  const loudness = (air.densityKgM3 * air.speedOfSoundMps) / (table.densityKgM3 * table.speedOfSoundMps)
  for (const [i, line] of used.entries()) {
    const advance = turn(((line.frequencyHz - tableHz) * 2 * Math.PI * radiusM) / table.speedOfSoundMps)
    const weight = ((weights[i] as number) * loudness * tableHz) / line.frequencyHz
    const [c, s] = [weight * advance.re, weight * advance.im]
    const places = line.lopsided ? undefined : alikePlaces(line.order)
    for (let t = 0; t < keptTerms(line); t++) {
      const to = places ? (places[t] as number) : t
      const a = line.re[t] as number
      const b = line.im[t] as number
      re[to] = (re[to] as number) + a * c - b * s
      im[to] = (im[to] as number) + a * s + b * c
    }
  }
  // A number that is not finite makes the sum one as well.
  let sum = frequencyHz + radiusM + centreZM
  for (let t = 0; t < re.length; t++) sum += (re[t] as number) + (im[t] as number)
  if (!Number.isFinite(sum)) {
    throw new RangeError('table holds a number that is not finite; allowed are finite numbers')
  }
  return radiationOf({ frequencyHz, centreZM, radiusM, order, re, im }, air)
}

const turn = (phaseRad: number): Complex => ({ re: Math.cos(phaseRad), im: Math.sin(phaseRad) })

/** Weights of the polynomial through values at four abscissae. */
function lagrangeWeights(x: number[], at: number): number[] {
  return x.map((own, i) =>
    x.reduce((product, other, j) => (i === j ? product : (product * (at - other)) / (own - other)), 1),
  )
}
