import { describe, expect, test } from 'vitest'
import {
  boundaryElementCeilingHz,
  type Cabinet,
  expansionLine,
  expansionRadiusM,
  makeAir,
  solveCabinet,
  tabulatedRadiation,
} from '../../../../src/acoustics/index.ts'
import { lineSteps, solvedCeilingHz, solvedFrequenciesHz } from '../../../../src/engine/solving/solved-frequencies.ts'

const air = makeAir()
const box = (widthM: number, heightM: number, depthM: number, radiusM: number, yM: number): Cabinet => ({
  widthM,
  heightM,
  depthM,
  drivers: [{ kind: 'piston', radiusM, xM: 0, yM }],
})
const boxes = {
  top: box(0.4, 0.56, 0.3, 0.105, -0.135),
  sub: box(0.6, 0.7, 0.7, 0.2, 0),
  column: box(0.12, 1, 0.15, 0.04, 0),
}

const linesHz = (cabinet: Cabinet): number[] => {
  const radianHz = air.speedOfSoundMps / (2 * Math.PI * expansionRadiusM(cabinet))
  const ceilingHz = Math.min(solvedCeilingHz, boundaryElementCeilingHz(cabinet, air))
  return solvedFrequenciesHz({}, lineSteps.onDemand, radianHz, ceilingHz)
}

describe('lines that a reader waits for', () => {
  for (const [name, cabinet] of Object.entries(boxes))
    test(`leave 0.05 dB between them, ${name}`, () => {
      const all = linesHz(cabinet)
      for (const aboutHz of [100, 313, 400, 640, 1000]) {
        // In the middle of a step, with the four lines that are interpolated.
        const next = all.findIndex((frequencyHz) => frequencyHz > aboutHz)
        const used = all.slice(next - 2, next + 2)
        const frequencyHz = ((used[1] as number) + (used[2] as number)) / 2
        const expansions = used.flatMap(
          (lineHz) => solveCabinet(cabinet, lineHz, air, { method: 'boundary-elements' }).expansion ?? [],
        )
        const { centreZM, radiusM } = expansions[0] as (typeof expansions)[number]
        const { speedOfSoundMps, densityKgM3 } = air
        const lines = expansions.map((expansion) => expansionLine(expansion))
        const between = tabulatedRadiation({ speedOfSoundMps, densityKgM3, centreZM, radiusM, lines }, frequencyHz, air)
        const solved = solveCabinet(cabinet, frequencyHz, air, { method: 'boundary-elements' })
        for (let angleDeg = 0; angleDeg <= 180; angleDeg += 15)
          for (const verticalRad of [0, 0.6]) {
            const wantedDb = solved.farFieldDb((angleDeg * Math.PI) / 180, verticalRad)
            if (wantedDb < -20) continue
            const offDb = between.farFieldDb((angleDeg * Math.PI) / 180, verticalRad) - wantedDb
            expect(Math.abs(offDb), `${frequencyHz.toFixed(0)} Hz, ${angleDeg}°`).toBeLessThan(0.05)
          }
      }
    })

  test('rise, reach from 20 Hz to the ceiling, and stand no farther apart than is said', () => {
    for (const cabinet of Object.values(boxes)) {
      const all = linesHz(cabinet)
      const stepHz = (lineSteps.onDemand.radians * air.speedOfSoundMps) / (2 * Math.PI * expansionRadiusM(cabinet))
      expect(all[0]).toBeLessThanOrEqual(20)
      expect(all.at(-1)).toBeCloseTo(Math.min(solvedCeilingHz, boundaryElementCeilingHz(cabinet, air)), 6)
      for (let i = 1; i < all.length; i++) {
        const [low, high] = [all[i - 1] as number, all[i] as number]
        expect(high).toBeGreaterThan(low)
        expect(high - low).toBeLessThanOrEqual(stepHz * (1 + 1e-9))
        expect(high / low).toBeLessThanOrEqual(2 ** (1 / lineSteps.onDemand.perOctave) * (1 + 1e-9))
      }
    }
  })
})
