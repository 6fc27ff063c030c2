import { expect, it } from 'vitest'
import {
  addEdgeSound,
  angleRoundEdge,
  type BoxEdge,
  edgeWave,
} from '../../../../src/acoustics/radiation/high-frequency-edge.ts'

/** A long edge along y at x = 0; the face from which sound comes lies at x < 0, z = 0, the air above z = 0 and at x > 0. */
const edge: BoxEdge = {
  x: 0,
  y: -2000,
  z: 0,
  alongX: 0,
  alongY: 1,
  alongZ: 0,
  lengthM: 4000,
  faceX: -1,
  faceY: 0,
  faceZ: 0,
  outX: 0,
  outY: 0,
  outZ: 1,
}

/** A point source of unit strength on the face, `reachM` from the edge. */
const pointWave = (reachM: number, wavenumber: number, steps: number) =>
  edgeWave(edge, { alongM: 2000, reachM, spreadM: reachM }, wavenumber, steps, (x, y, z, out) => {
    const r = Math.hypot(x + reachM, y, z)
    out[0] = (out[0] as number) + Math.cos(wavenumber * r) / (4 * Math.PI * r)
    out[1] = (out[1] as number) - Math.sin(wavenumber * r) / (4 * Math.PI * r)
  })

const total = (wave: ReturnType<typeof pointWave>, wavenumber: number, angle: number, r: number): [number, number] => {
  const [x, z] = [-r * Math.cos(angle), r * Math.sin(angle)]
  const out = new Float64Array(2)
  if (angle < Math.PI) {
    const direct = Math.hypot(x + wave.reachM, z)
    out[0] = (2 * Math.cos(wavenumber * direct)) / (4 * Math.PI * direct)
    out[1] = (-2 * Math.sin(wavenumber * direct)) / (4 * Math.PI * direct)
  }
  addEdgeSound(edge, wave, wavenumber, x, 0, z, out)
  return [out[0], out[1]] as [number, number]
}

it('tells the angle round an edge, from the face through the air to the other face', () => {
  expect(angleRoundEdge(edge, -1, 0, 0)).toBe(0)
  expect(angleRoundEdge(edge, 0, 5, 1)).toBeCloseTo(Math.PI / 2, 12)
  expect(angleRoundEdge(edge, 1, 0, 0)).toBeCloseTo(Math.PI, 12)
  expect(angleRoundEdge(edge, 0, 0, -1)).toBeCloseTo(1.5 * Math.PI, 12)
  expect(angleRoundEdge(edge, -1, 0, -1)).toBeGreaterThan(1.5 * Math.PI)
})

it('lets a source near the edge fill three quarters of space while waves are long: 4/3 of the pressure in free space', () => {
  const wavenumber = 1e-7
  const wave = pointWave(1, wavenumber, 40000)
  // At 3π/4 the largest correction, (reach/r)^{2/3} cos(2θ/3), is nothing; 1 %: the next one, (1/50)^{4/3}, is 0.5 %
  const [re] = total(wave, wavenumber, (3 * Math.PI) / 4, 50)
  expect(re * 4 * Math.PI * 50).toBeGreaterThan((4 / 3) * 0.99)
  expect(re * 4 * Math.PI * 50).toBeLessThan((4 / 3) * 1.01)
})

it('makes up exactly for the wave that ends at its border, and is silent inside the body', () => {
  const wavenumber = 2
  const wave = pointWave(1.5, wavenumber, 20000)
  const [before, behind] = [total(wave, wavenumber, Math.PI - 1e-5, 3), total(wave, wavenumber, Math.PI + 1e-5, 3)]
  // The whole wave that ends there is 2/(4π · 4.5); 2e-3 of it is the quadrature’s share
  expect(Math.hypot(before[0] - behind[0], before[1] - behind[1])).toBeLessThan((2e-3 * 2) / (4 * Math.PI * 4.5))
  // On the border itself half of the wave is there.
  expect(Math.hypot(...behind)).toBeGreaterThan(0.8 / (4 * Math.PI * 4.5))
  expect(Math.hypot(...behind)).toBeLessThan(1.2 / (4 * Math.PI * 4.5))
  expect(total(wave, wavenumber, 1.75 * Math.PI, 3)).toEqual([0, 0])
})
