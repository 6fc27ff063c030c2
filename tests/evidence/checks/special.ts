import { legendrePolynomials } from '../../../src/acoustics/special/legendre.ts'
import {
  sphericalHankelLogDerivatives,
  sphericalHankelRatios,
} from '../../../src/acoustics/special/spherical-hankel.ts'
import { type Check, type CheckGroup, fromMemory } from '../check.ts'
import digits from '../reference/radiation-digits.json' with { type: 'json' }

const idPart = (value: number): string => String(value).replace('.', '-')

const place = `digits by radiation-digits.py (${digits.source.replace('radiation-digits.py beside this file, ', '')})`

/** |computed − reference| / |reference| of two complex numbers. */
function relativeError(re: number, im: number, reference: string[]): number {
  const referenceRe = Number(reference[0])
  const referenceIm = Number(reference[1])
  return Math.hypot(re - referenceRe, im - referenceIm) / Math.hypot(referenceRe, referenceIm)
}

const ratios: Check[] = digits.hankelRatios.map(({ n, x, value }) => ({
  id: `hankel-ratio-${n}-${idPart(x)}`,
  kind: 'method',
  quantity: 'Spherical Hankel functions, ratio of neighbouring orders: relative error',
  unit: '1',
  source: 'dlmf',
  place: `10.51.1; ${place}`,
  input: `n = ${n}, x = ${x}`,
  expected: 0,
  tolerance: 1e-12,
  toleranceReason: 'double precision over up to 1000 steps of the recurrence',
  computed: () => {
    const row = sphericalHankelRatios(x, n)
    return relativeError(row.re[n] as number, row.im[n] as number, value)
  },
}))

const slopes: Check[] = digits.hankelLogDerivatives.map(({ n, x, value }) => ({
  id: `hankel-slope-${n}-${idPart(x)}`,
  kind: 'method',
  quantity: 'Spherical Hankel functions, logarithmic derivative: relative error',
  unit: '1',
  source: 'dlmf',
  place: `10.51.2; ${place}`,
  input: `n = ${n}, x = ${x}`,
  expected: 0,
  tolerance: 1e-12,
  toleranceReason: 'double precision over up to 1000 steps of the recurrence',
  computed: () => {
    const row = sphericalHankelLogDerivatives(sphericalHankelRatios(x, n), x)
    return relativeError(row.re[n] as number, row.im[n] as number, value)
  },
}))

const wronskians: Check[] = [0.3, 5, 60, 900].map((x) => ({
  id: `hankel-wronskian-${idPart(x)}`,
  kind: 'law',
  quantity: 'Wronskian: −Im of the logarithmic derivative × x² |h_n|², product of ratios, at n = 12',
  unit: '1',
  source: 'dlmf',
  place: '10.50.1',
  input: `n = 12, x = ${x}`,
  expected: 1,
  tolerance: 1e-12,
  toleranceReason: 'an exact relation; rounding only',
  computed: () => {
    const row = sphericalHankelRatios(x, 12)
    let squared = 1 / (x * x)
    for (let n = 1; n <= 12; n++) squared *= (row.re[n] as number) ** 2 + (row.im[n] as number) ** 2
    return -(sphericalHankelLogDerivatives(row, x).im[12] as number) * x * x * squared
  },
}))

const legendre: Check[] = (
  [
    [2, 0.5, -0.125],
    [3, 0.5, -0.4375],
    [4, 0.5, -0.2890625],
    [10, 0, -63 / 256],
  ] as const
).map(([n, x, expected]) => ({
  id: `legendre-${n}-${idPart(x)}`,
  kind: 'law',
  quantity: `Legendre polynomial P_${n}`,
  unit: '1',
  source: n === 10 ? fromMemory : 'dlmf',
  place: n === 10 ? 'P_10(0) = −63/256' : '18.5.16, polynomials of low order written out',
  input: `x = ${x}`,
  expected,
  tolerance: 1e-14,
  toleranceReason: 'exact fractions; rounding only',
  computed: () => legendrePolynomials(n, x)[n] as number,
}))

/** Special functions under the radiation models. */
export const specialChecks: CheckGroup = {
  title: 'Spherical Hankel functions and Legendre polynomials',
  checks: [...ratios, ...slopes, ...wronskians, ...legendre],
}
