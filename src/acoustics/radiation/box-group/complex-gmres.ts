/** A square complex linear map: takes `re`, `im` into `outRe`, `outIm`. */
export type ComplexMap = (re: Float64Array, im: Float64Array, outRe: Float64Array, outIm: Float64Array) => void

/** Steps after which a solution that has not come is an error. */
const mostSteps = 200

/**
 * Solves A x = b by the generalised minimal residual method without restarts: Arnoldi's basis by modified Gram–Schmidt, its
 * Hessenberg matrix turned triangular by Givens rotations. Integral equations of the second kind take ten to forty steps, whatever
 * the number of unknowns.
 *
 * @param map        A
 * @param re, im     b
 * @param tolerance  residual over |b| at which it stops, above 0
 * @returns          x, and the steps taken
 * @throws RangeError if `mostSteps` steps do not reach it
 * Source: Y. Saad & M. H. Schultz, SIAM J. Sci. Stat. Comput. 7 (1986) 856–869.
 */
export function solveByResiduals(
  map: ComplexMap,
  { re, im }: { re: Float64Array; im: Float64Array },
  tolerance: number,
): { re: Float64Array; im: Float64Array; steps: number } {
  const size = re.length
  const norm = Math.sqrt(squareOf(re) + squareOf(im))
  const x = { re: new Float64Array(size), im: new Float64Array(size) }
  if (norm === 0) return { ...x, steps: 0 }
  const basis = [{ re: re.map((value) => value / norm), im: im.map((value) => value / norm) }]
  /** Column after column of the triangle, and the turned right-hand side. */
  const columns: { re: number[]; im: number[] }[] = []
  const turns: { cosine: number; re: number; im: number }[] = []
  const right = { re: [norm], im: [0] }
  for (let step = 0; Math.hypot(right.re[step] as number, right.im[step] as number) > tolerance * norm; step++) {
    if (step === mostSteps) throw new RangeError(`the equations did not settle in ${mostSteps} steps`)
    const last = basis[step] as { re: Float64Array; im: Float64Array }
    const next = { re: new Float64Array(size), im: new Float64Array(size) }
    map(last.re, last.im, next.re, next.im)
    const column = { re: [] as number[], im: [] as number[] }
    for (const known of basis) takeOut(known, next, column)
    const length = Math.sqrt(squareOf(next.re) + squareOf(next.im))
    for (const [i, { cosine, re: sRe, im: sIm }] of turns.entries()) {
      const aRe = column.re[i] as number
      const aIm = column.im[i] as number
      const bRe = column.re[i + 1] as number
      const bIm = column.im[i + 1] as number
      column.re[i] = cosine * aRe + sRe * bRe - sIm * bIm
      column.im[i] = cosine * aIm + sRe * bIm + sIm * bRe
      column.re[i + 1] = cosine * bRe - sRe * aRe - sIm * aIm
      column.im[i + 1] = cosine * bIm - sRe * aIm + sIm * aRe
    }
    // The rotation that turns (h, length) into (√(|h|² + length²) h/|h|, 0).
    const hRe = column.re[step] as number
    const hIm = column.im[step] as number
    const magnitude = Math.hypot(hRe, hIm)
    const whole = Math.hypot(magnitude, length)
    const phase = magnitude === 0 ? [1, 0] : [hRe / magnitude, hIm / magnitude]
    const turn = {
      cosine: magnitude / whole,
      re: ((phase[0] as number) * length) / whole,
      im: ((phase[1] as number) * length) / whole,
    }
    column.re[step] = (phase[0] as number) * whole
    column.im[step] = (phase[1] as number) * whole
    turns.push(turn)
    columns.push(column)
    const gRe = right.re[step] as number
    const gIm = right.im[step] as number
    right.re[step] = turn.cosine * gRe
    right.im[step] = turn.cosine * gIm
    right.re.push(-turn.re * gRe - turn.im * gIm)
    right.im.push(-turn.re * gIm + turn.im * gRe)
    for (const part of [next.re, next.im]) {
      for (let i = 0; i < size; i++) part[i] = (part[i] as number) / length
    }
    basis.push(next)
  }
  addCombination(columns, right, basis, x)
  return { ...x, steps: columns.length }
}

const squareOf = (values: Float64Array): number => {
  let sum = 0
  for (let i = 0; i < values.length; i++) sum += (values[i] as number) ** 2
  return sum
}

type Vector = { re: Float64Array; im: Float64Array }

/** Takes a unit vector's share out of another, and notes it. */
function takeOut(unit: Vector, from: Vector, column: { re: number[]; im: number[] }): void {
  let re = 0
  let im = 0
  for (let i = 0; i < unit.re.length; i++) {
    const a = unit.re[i] as number
    const b = unit.im[i] as number
    const c = from.re[i] as number
    const d = from.im[i] as number
    re += a * c + b * d
    im += a * d - b * c
  }
  for (let i = 0; i < unit.re.length; i++) {
    const a = unit.re[i] as number
    const b = unit.im[i] as number
    from.re[i] = (from.re[i] as number) - (re * a - im * b)
    from.im[i] = (from.im[i] as number) - (re * b + im * a)
  }
  column.re.push(re)
  column.im.push(im)
}

/** Back substitution, and the sum over the basis. */
function addCombination(
  columns: readonly { re: number[]; im: number[] }[],
  right: { re: number[]; im: number[] },
  basis: readonly Vector[],
  x: Vector,
): void {
  for (let i = columns.length - 1; i >= 0; i--) {
    const { re, im } = columns[i] as { re: number[]; im: number[] }
    const dRe = re[i] as number
    const dIm = im[i] as number
    const square = dRe * dRe + dIm * dIm
    const gRe = right.re[i] as number
    const gIm = right.im[i] as number
    const [yRe, yIm] = [(gRe * dRe + gIm * dIm) / square, (gIm * dRe - gRe * dIm) / square]
    for (let row = 0; row < i; row++) {
      right.re[row] = (right.re[row] as number) - ((re[row] as number) * yRe - (im[row] as number) * yIm)
      right.im[row] = (right.im[row] as number) - ((re[row] as number) * yIm + (im[row] as number) * yRe)
    }
    const vector = basis[i] as Vector
    for (let k = 0; k < x.re.length; k++) {
      const a = vector.re[k] as number
      const b = vector.im[k] as number
      x.re[k] = (x.re[k] as number) + a * yRe - b * yIm
      x.im[k] = (x.im[k] as number) + a * yIm + b * yRe
    }
  }
}
