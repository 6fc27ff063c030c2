import { expect, it } from 'vitest'
import { discPotential } from '../../../../../src/acoustics/radiation/boundary-elements/disc-potential.ts'
import { gaussLegendre } from '../../../../../src/acoustics/special/gauss-legendre.ts'

const out = new Float64Array(2)

it('on the axis of a disc is (e^{−jkh} − e^{−jk√(h² + a²)})/2jk', () => {
  for (const [k, h] of [
    [0.01, 0.4],
    [37, 0],
    [37, 0.01],
    [200, 0.3],
    [400, 5],
  ] as const) {
    discPotential(0.1, k, 0, h, out)
    const far = Math.hypot(h, 0.1)
    expect(out[0]).toBeCloseTo((Math.sin(k * far) - Math.sin(k * h)) / (2 * k), 12)
    expect(out[1]).toBeCloseTo((Math.cos(k * far) - Math.cos(k * h)) / (2 * k), 12)
  }
})

it('off the axis equals the area integral', () => {
  const { nodes, weights } = gaussLegendre(60)
  for (const [k, offset, h] of [
    [37, 0.2, 0],
    [37, 0.05, 0.05],
    [100, 0.14, 0.03],
    [1, 3, 2],
  ] as const) {
    let re = 0
    let im = 0
    for (let i = 0; i < 60; i++) {
      const r = 0.05 * (1 + (nodes[i] as number))
      for (let m = 0; m < 400; m++) {
        const angle = (Math.PI * (m + 0.5)) / 400
        const distance = Math.sqrt(r * r + offset * offset - 2 * r * offset * Math.cos(angle) + h * h)
        const weight = ((weights[i] as number) * 0.05 * r * 2 * Math.PI) / 400 / (4 * Math.PI * distance)
        re += weight * Math.cos(k * distance)
        im -= weight * Math.sin(k * distance)
      }
    }
    discPotential(0.1, k, offset, h, out)
    const size = Math.hypot(re, im)
    // 1e-6: the stated accuracy
    expect(Math.hypot((out[0] as number) - re, (out[1] as number) - im) / size).toBeLessThan(1e-6)
  }
})

it('stays continuous across the rim', () => {
  const at = (offset: number): [number, number] => {
    discPotential(0.1, 37, offset, 0, out)
    return [out[0] as number, out[1] as number]
  }
  const [a, b] = [at(0.1 - 1e-7), at(0.1 + 1e-7)]
  // The slope is infinite like ln: 2e-7 × ln(1e-7/0.1) / 2π is about 5e-7.
  expect(Math.hypot(a[0] - b[0], a[1] - b[1])).toBeLessThan(2e-6)
})
