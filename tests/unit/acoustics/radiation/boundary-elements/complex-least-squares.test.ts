import { expect, it } from 'vitest'
import { leastSquaresSolver } from '../../../../../src/acoustics/radiation/boundary-elements/complex-least-squares.ts'
import { complexMatrix } from '../../../../../src/acoustics/radiation/boundary-elements/complex-matrix.ts'
import { seededRandom } from '../../../../../src/acoustics/signals/seeded-random.ts'

const random = seededRandom(7)
const filled = (rows: number, columns: number) => {
  const a = complexMatrix(rows, columns)
  for (let i = 0; i < rows * columns; i++) {
    a.re[i] = random() - 0.5
    a.im[i] = random() - 0.5
  }
  return a
}

it('solves a square system that has a solution', () => {
  for (const size of [1, 2, 3, 40, 301]) {
    const a = filled(size, size)
    for (let i = 0; i < size; i++) a.re[i * size + i] = (a.re[i * size + i] as number) + Math.sqrt(size)
    const x = filled(size, 1)
    const b = complexMatrix(size, 1)
    for (let j = 0; j < size; j++) {
      for (let i = 0; i < size; i++) {
        const [p, q] = [a.re[i * size + j] as number, a.im[i * size + j] as number]
        const [r, s] = [x.re[j] as number, x.im[j] as number]
        b.re[i] = (b.re[i] as number) + p * r - q * s
        b.im[i] = (b.im[i] as number) + p * s + q * r
      }
    }
    const solved = leastSquaresSolver(a)(b)
    for (let j = 0; j < size; j++) {
      expect(solved.re[j]).toBeCloseTo(x.re[j] as number, 10)
      expect(solved.im[j]).toBeCloseTo(x.im[j] as number, 10)
    }
    expect(solved.relativeResidual).toBeLessThan(1e-10)
  }
})

it('leaves a residual at right angles to every column of a tall system', () => {
  const [rows, columns] = [300, 41]
  const a = filled(rows, columns)
  const b = filled(rows, 1)
  const x = leastSquaresSolver({ ...a, re: a.re.slice(), im: a.im.slice() })(b)
  for (let j = 0; j < columns; j++) {
    let re = 0
    let im = 0
    for (let i = 0; i < rows; i++) {
      let rRe = b.re[i] as number
      let rIm = b.im[i] as number
      for (let c = 0; c < columns; c++) {
        const [p, q] = [a.re[i * columns + c] as number, a.im[i * columns + c] as number]
        rRe -= p * (x.re[c] as number) - q * (x.im[c] as number)
        rIm -= p * (x.im[c] as number) + q * (x.re[c] as number)
      }
      const [p, q] = [a.re[i * columns + j] as number, a.im[i * columns + j] as number]
      re += p * rRe + q * rIm
      im += p * rIm - q * rRe
    }
    expect(Math.hypot(re, im)).toBeLessThan(1e-11)
  }
})

it('says so when columns depend on each other, or when rows are missing', () => {
  const a = filled(8, 3)
  for (const part of [a.re, a.im]) {
    for (let row = 0; row < 8; row++) part[3 * row + 2] = part[3 * row] as number
  }
  expect(() => leastSquaresSolver(a)).toThrow(/column 2 of a depends/)
  expect(() => leastSquaresSolver(filled(2, 3))).toThrow(/a has 2 rows; allowed is at least its 3 columns/)
})
