import { describe, expect, test } from 'vitest'
import { addEdgeSound, type BoxEdge, edgeWave } from '../../../../src/acoustics/radiation/high-frequency-edge.ts'
import { addLitEdge, edgePlaces, litWave } from '../../../../src/acoustics/radiation/lit-edge.ts'

/** The right front edge of a box of 0.32 × 0.56 m. */
const edge: BoxEdge = {
  x: 0.16,
  y: -0.28,
  z: 0,
  alongX: 0,
  alongY: 1,
  alongZ: 0,
  lengthM: 0.56,
  faceX: -1,
  faceY: 0,
  faceZ: 0,
  outX: 0,
  outY: 0,
  outZ: 1,
}

/** Point sources on the face: far from the edge, near to it, and one that comes from further away than it spreads. */
const sources = [
  { xM: 0, yM: 0.13, fartherM: 0 },
  { xM: 0.152, yM: -0.1, fartherM: 0 },
  { xM: -0.1, yM: 0, fartherM: 0.3 },
]

const waveOf = ({ xM, yM, fartherM }: (typeof sources)[number], wavenumber: number) => {
  const reachM = 0.16 - xM + fartherM
  return {
    source: { alongM: yM + 0.28, reachM, spreadM: reachM / (1 + fartherM) },
    pressureAt: (x: number, y: number, z: number, out: Float64Array) => {
      const r = Math.hypot(x - xM + fartherM, y - yM, z)
      out[0] = (out[0] as number) + Math.cos(wavenumber * r) / r
      out[1] = (out[1] as number) - Math.sin(wavenumber * r) / r
    },
  }
}

describe('an edge lit by several waves', () => {
  for (const wavenumber of [18, 37, 150, 460])
    test(`sends on what the integral over stretches gives for each, k = ${wavenumber} /m`, () => {
      const places = edgePlaces(edge, wavenumber, 0.008)
      const lit = sources.map((source) => {
        const { source: seen, pressureAt } = waveOf(source, wavenumber)
        return litWave(edge, places, seen, pressureAt)
      })
      const plain = sources.map((source) => {
        const { source: seen, pressureAt } = waveOf(source, wavenumber)
        return edgeWave(edge, seen, wavenumber, 2000, pressureAt)
      })
      for (const elevationDeg of [-75, -45, 0, 30, 60])
        for (let azimuthDeg = 1; azimuthDeg <= 267; azimuthDeg += 7)
          for (const distanceM of [0.2, 4]) {
            const [azimuth, elevation] = [(azimuthDeg * Math.PI) / 180, (elevationDeg * Math.PI) / 180]
            const x = 0.16 - distanceM * Math.cos(elevation) * Math.cos(azimuth)
            const y = distanceM * Math.sin(elevation)
            const z = distanceM * Math.cos(elevation) * Math.sin(azimuth)
            for (const [i, { xM, yM, fartherM }] of sources.entries()) {
              const [got, wanted] = [new Float64Array(2), new Float64Array(2)]
              addLitEdge(edge, lit.slice(i, i + 1), x, y, z, got)
              addEdgeSound(edge, plain[i] as (typeof plain)[number], wavenumber, x, y, z, wanted)
              const off = Math.hypot(
                (got[0] as number) - (wanted[0] as number),
                (got[1] as number) - (wanted[1] as number),
              )
              const freeField = 1 / Math.hypot(x - xM + fartherM, y - yM, z)
              // 2e-3 of the wave: the stretches leave 1e-3; against stretches half as long the Gauss points leave 1e-6.
              expect(off / freeField, `${i}: ${elevationDeg}°, ${azimuthDeg}°, ${distanceM} m`).toBeLessThan(2e-3)
            }
          }
    })

  test('adds its waves up, and is silent where the edge is hidden', () => {
    const places = edgePlaces(edge, 100, 0.008)
    const lit = sources.map((source) => {
      const { source: seen, pressureAt } = waveOf(source, 100)
      return litWave(edge, places, seen, pressureAt)
    })
    const [all, sum, hidden] = [new Float64Array(2), new Float64Array(2), new Float64Array(2)]
    addLitEdge(edge, lit, 1, 0.5, -2, all)
    for (const wave of lit) addLitEdge(edge, [wave], 1, 0.5, -2, sum)
    expect(Math.hypot(...all)).toBeGreaterThan(0)
    expect(all[0]).toBeCloseTo(sum[0] as number, 12)
    expect(all[1]).toBeCloseTo(sum[1] as number, 12)
    addLitEdge(edge, lit, 0, 0, -0.1, hidden)
    expect([...hidden]).toEqual([0, 0])
  })

  test('straight behind it is half of the wave, on either side of the border', () => {
    const wavenumber = 60
    const { source, pressureAt } = waveOf(sources[0] as (typeof sources)[number], wavenumber)
    const wave = litWave(edge, edgePlaces(edge, wavenumber, 0.008), source, pressureAt)
    const at = (z: number) => {
      const out = new Float64Array(2)
      addLitEdge(edge, [wave], 2, 0.3, z, out)
      return out
    }
    const [front, on, behind] = [at(1e-6), at(0), at(-1e-6)]
    const free = new Float64Array(2)
    pressureAt(2, 0.3, 0, free)
    // 2e-3 of the wave: the quadrature's share on the three sides.
    const allowed = 2e-3 * Math.hypot(...free)
    expect(
      Math.hypot((on[0] as number) - (behind[0] as number), (on[1] as number) - (behind[1] as number)),
    ).toBeLessThan(allowed)
    const jump = [(behind[0] as number) - (front[0] as number), (behind[1] as number) - (front[1] as number)]
    expect(
      Math.hypot((jump[0] as number) - 2 * (free[0] as number), (jump[1] as number) - 2 * (free[1] as number)),
    ).toBeLessThan(allowed)
  })

  test('straight behind it is a number too where the way crosses the edge in one of its points', () => {
    const places = edgePlaces(edge, 60, 0.16)
    for (const place of places.placesM) {
      const { source, pressureAt } = waveOf({ xM: 0, yM: place - 0.28, fartherM: 0 }, 60)
      const out = new Float64Array(2)
      addLitEdge(edge, [litWave(edge, places, { ...source, alongM: place }, pressureAt)], 2, place - 0.28, 0, out)
      expect(Math.hypot(...out)).toBeGreaterThan(0)
    }
  })
})
