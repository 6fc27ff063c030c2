import { expect, test } from 'vitest'
import { setPhasor, setPhasors } from '../../../../src/acoustics/special/phasors.ts'

test('cosines and sines from the table are those of the language, of small, large and negative phases', () => {
  const phases = Float64Array.from({ length: 4001 }, (_, i) => (i - 2000) ** 3 * 1.7e-7)
  const cosines = new Float64Array(phases.length)
  const sines = new Float64Array(phases.length)
  const one = new Float64Array(2)
  setPhasors(phases, phases.length, cosines, sines)
  for (const [i, phase] of phases.entries()) {
    // 1e-14, and what a phase of many turns itself is told to.
    const allowed = 1e-14 + 4e-16 * Math.abs(phase)
    expect(Math.abs((cosines[i] as number) - Math.cos(phase)), `${phase}`).toBeLessThan(allowed)
    expect(Math.abs((sines[i] as number) - Math.sin(phase)), `${phase}`).toBeLessThan(allowed)
    setPhasor(phase, one)
    expect([...one]).toEqual([cosines[i], sines[i]])
  }
})

test('fills as many as are wanted, in place if need be', () => {
  const phases = Float64Array.of(0, Math.PI, 0.5)
  const sines = new Float64Array(3)
  setPhasors(phases, 2, phases, sines)
  expect(phases).toEqual(Float64Array.of(1, -1, 0.5))
  expect(sines[2]).toBe(0)
})
