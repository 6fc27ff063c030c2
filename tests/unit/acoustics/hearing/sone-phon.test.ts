import { describe, expect, it } from 'vitest'
import { phonsFromSones, sonesFromPhons } from '../../../../src/acoustics/hearing/sone-phon.ts'

describe('sone and phon', () => {
  it('double the loudness for ten phon from 40 phon up', () => {
    for (const phons of [40, 55, 90]) expect(sonesFromPhons(phons + 10)).toBeCloseTo(2 * sonesFromPhons(phons), 9)
    expect(phonsFromSones(1)).toBe(40)
  })

  it('need less than ten phon for a doubling below 40 phon', () => {
    expect(sonesFromPhons(30) / sonesFromPhons(20)).toBeGreaterThan(2)
  })

  it('turn into each other and back', () => {
    for (const sones of [0.001, 0.1, 0.7, 1, 3, 64]) expect(sonesFromPhons(phonsFromSones(sones))).toBeCloseTo(sones, 9)
    for (const phons of [3.1, 10, 39.9, 40, 77, 200])
      expect(phonsFromSones(sonesFromPhons(phons))).toBeCloseTo(phons, 9)
  })

  it('miss each other by no more than 0.008 phon where the two rules meet', () => {
    expect(Math.abs(phonsFromSones(1 - 1e-12) - 40)).toBeLessThan(0.008)
  })

  it('have ends: silence is 3 phon, and 0 phon is 0 sone', () => {
    expect(phonsFromSones(0)).toBe(3)
    expect(sonesFromPhons(0)).toBe(0)
  })

  it('are refused outside their range', () => {
    for (const sones of [-0.1, Number.NaN, Infinity]) expect(() => phonsFromSones(sones)).toThrow(`sones is ${sones}`)
    for (const phons of [-0.1, 201, Number.NaN]) expect(() => sonesFromPhons(phons)).toThrow(`phons is ${phons}`)
  })
})
