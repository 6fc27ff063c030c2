import { beforeAll, describe, expect, test } from 'vitest'
import { bandLinesHz } from '../../../../src/acoustics/field/band-levels.ts'
import { earlyLines } from '../../../../src/acoustics/field/early-lines.ts'
import {
  type EarlySound,
  earlySoundAt,
  octaveTable,
  type Point,
  rigSources,
  squaredMagnitude,
} from '../../../../src/acoustics/index.ts'
import { airOf } from '../../../../src/engine/scene/air.ts'
import { voicedAt } from '../../../../src/engine/scene/free-field.ts'
import { loadSolvedRig, solvedModel } from '../../../../src/engine/scene/solved-gear.ts'
import { heardBands } from '../../../../src/engine/scene/third-octaves.ts'
import { rigOf } from '../../../demo-gear.ts'

const rigs = ['top-over-sub', 'column-on-base', 'compact-two-way'].map((name) => rigOf(name))
beforeAll(async () => {
  for (const rig of rigs) await loadSolvedRig(rig)
})

const air = airOf()
const bands = heardBands.filter(({ nominalHz }) => nominalHz >= 100)
const linesPerBand = 8
const hz = Float64Array.from(bands.flatMap((band) => bandLinesHz(band, linesPerBand)))
const places: Point[] = [
  { xM: 1, yM: 1.6, zM: 4.5 },
  { xM: -1.8, yM: 1.2, zM: 0.5 },
  { xM: 2.2, yM: 1.7, zM: 6.4 },
]
const hallOf = (widthM: number, heightM: number, lengthM: number, alpha: readonly number[]) => ({
  widthM,
  heightM,
  lengthM,
  absorption: octaveTable([125, 250, 500, 1000, 2000, 4000], alpha),
})
const halls = [
  hallOf(11, 4.6, 18, [0.3, 0.2, 0.12, 0.1, 0.1, 0.09]),
  hallOf(18, 7, 30, [0.02, 0.02, 0.03, 0.04, 0.05, 0.07]),
  hallOf(5, 2.6, 7, [0.1, 0.2, 0.3, 0.3, 0.3, 0.3]),
]

/** Mean square of each band: all sources of a rig together. */
const bandSquares = (soundOf: (line: number, source: number) => EarlySound, sources: number): number[] =>
  bands.map((_, band) => {
    let sum = 0
    for (let line = band * linesPerBand; line < (band + 1) * linesPerBand; line++) {
      const all = { re: 0, im: 0, energy: 0 }
      for (let source = 0; source < sources; source++) {
        const { re, im, energy } = soundOf(line, source)
        all.re += re
        all.im += im
        all.energy += energy
      }
      sum += squaredMagnitude(all) + all.energy
    }
    return sum / linesPerBand
  })

describe('early sound by line', () => {
  test.each(rigs)(
    'of $name is that of earlySoundAt: third octaves within 0.3 dB, 0.06 dB r.m.s.; what is in step alike',
    (rig) => {
      const placed = { position: { xM: -1.3, yM: 0, zM: 1.6 }, yawRad: 0.4 }
      const sources = rigSources(rig, air, solvedModel, placed, voicedAt)
      const errors: number[] = []
      for (const hall of halls) {
        const quick = sources.map(earlyLines(hall, air, hz))
        for (const place of places) {
          const quicks = quick.map((at) => at(place))
          const exact = Array.from(hz, (frequencyHz) => {
            const soundOf = earlySoundAt(hall, frequencyHz, air, 'band')
            return sources.map((source) => soundOf(source, source.radiation(frequencyHz), place))
          })
          const of = (line: number, source: number) => exact[line]?.[source] as EarlySound
          const ours = (line: number, source: number): EarlySound => {
            const { re, im, energy } = quicks[source] as (typeof quicks)[number]
            return { re: re[line] as number, im: im[line] as number, energy: energy[line] as number }
          }
          for (const line of hz.keys()) {
            for (const source of sources.keys()) {
              const scale = Math.sqrt(squaredMagnitude(of(line, source))) || 1
              expect(Math.abs(ours(line, source).re - of(line, source).re) / scale).toBeLessThan(1e-9)
              expect(Math.abs(ours(line, source).im - of(line, source).im) / scale).toBeLessThan(1e-9)
            }
          }
          const wanted = bandSquares(of, sources.length)
          for (const [band, square] of bandSquares(ours, sources.length).entries())
            errors.push(10 * Math.log10(square / (wanted[band] as number)))
        }
      }
      expect(errors).toHaveLength(halls.length * places.length * bands.length)
      expect(Math.max(...errors.map(Math.abs))).toBeLessThan(0.3)
      expect(Math.sqrt(errors.reduce((sum, error) => sum + error * error, 0) / errors.length)).toBeLessThan(0.06)
    },
  )

  test('is nothing before the first line that is wanted, and nothing of a source without gain', () => {
    const [source] = rigSources(rigs[0] as (typeof rigs)[0], air, solvedModel, undefined, voicedAt)
    const hall = halls[0] as (typeof halls)[0]
    const placed = { ...(source as NonNullable<typeof source>), position: { xM: 0, yM: 1.8, zM: 3 } }
    const from = 40
    const some = earlyLines(hall, air, hz, from)(placed)(places[0] as Point)
    const all = earlyLines(hall, air, hz)(placed)(places[0] as Point)
    expect(some.re.subarray(0, from).every((value) => value === 0)).toBe(true)
    expect(some.re.subarray(from)).toEqual(all.re.subarray(from))
    const silent = earlyLines(hall, air, hz)({ ...placed, gain: 0 })(places[0] as Point)
    expect([...silent.re, ...silent.im, ...silent.energy].every((value) => value === 0)).toBe(true)
  })
})
