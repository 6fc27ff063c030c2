import { describe, expect, test } from 'vitest'
import { pinkNoise, thirdOctaveBands, thirdOctaveLevelsDb } from '../../../../../src/acoustics/index.ts'
import { inverseRealDft, realDft } from '../../../../../src/acoustics/signals/dft.ts'
import { columnAnswer } from '../../../../../src/engine/questions/column/column.ts'
import { columnHearing, columnResponses } from '../../../../../src/engine/questions/column/column-hearing.ts'
import { columnPicture } from '../../../../../src/engine/questions/column/column-picture.ts'
import {
  type Column,
  columnPlaceIds,
  columnPlaces,
  patternDeg,
} from '../../../../../src/engine/questions/column/column-terms.ts'
import { spectrumBands } from '../../../../../src/engine/scene/third-octaves.ts'

const column: Column = { count: 8, spacingM: 0.1125, heightM: 1.6, tiltRad: 0 }
const degree = Math.PI / 180
const at = (levels: number[], deg: number) => levels[patternDeg.indexOf(deg)] ?? Number.NaN

describe('the answer of a column', () => {
  test('patterns are 0 on the axis, meet straight behind, and are even', () => {
    const { verticalDb, horizontalDb, aboveDb, behindDb } = columnAnswer({ column, frequencyHz: 1000 })
    expect(at(verticalDb, 0)).toBe(0)
    expect(at(horizontalDb, 0)).toBe(0)
    expect(at(verticalDb, 180)).toBeCloseTo(at(horizontalDb, -180), 9)
    expect(at(verticalDb, 30)).toBeCloseTo(aboveDb, 9)
    expect(at(horizontalDb, 180)).toBeCloseTo(behindDb, 9)
    for (const deg of [20, 75, 130]) expect(at(verticalDb, -deg)).toBeCloseTo(at(verticalDb, deg), 9)
  })

  test('the treble is held in height, the bass is not: 30° above and straight behind', () => {
    const { aboveDb, behindDb, bassBehindDb } = columnAnswer({ column, frequencyHz: 1000 })
    expect(aboveDb).toBeLessThan(-10)
    expect(behindDb).toBeLessThan(-3)
    expect(Math.abs(bassBehindDb)).toBeLessThan(0.5)
    const bass = columnAnswer({ column, frequencyHz: 100 })
    expect(bass.behindDb).toBe(bass.bassBehindDb)
    expect(bass.aboveDb).toBeGreaterThan(-1)
  })

  test('a listener on the axis hears what the axis has, and tilting the column moves the beam to the seated', () => {
    expect(columnAnswer({ column, frequencyHz: 2000 }).placesDb.standing).toBeCloseTo(0, 9)
    const tiltRad = Math.atan2(0.4, 2.5)
    const tilted = columnAnswer({ column: { ...column, tiltRad }, frequencyHz: 2000 }).placesDb
    expect(tilted.seated).toBeCloseTo(0, 6)
    expect(tilted.standing).toBeLessThan(-3)
  })

  test('the place above is 30° above the axis however the column leans', () => {
    for (const tiltRad of [0, 0.2]) {
      const { above } = columnPlaces({ heightM: 1.6, tiltRad })
      expect(Math.atan2(above.yM - 1.6, above.zM) + tiltRad).toBeCloseTo(30 * degree, 9)
    }
  })

  test('further beams appear when the drivers are more than a wavelength apart', () => {
    expect(columnAnswer({ column, frequencyHz: 2500 }).furtherBeams).toEqual([])
    const wide = columnAnswer({ column: { ...column, spacingM: 0.3 }, frequencyHz: 1600 }).furtherBeams
    expect(wide).toHaveLength(1)
    expect(wide[0]?.angleDeg).toBeCloseTo(Math.asin(343.2 / 1600 / 0.3) / degree, 1)
    expect(wide[0]?.levelDb).toBeGreaterThan(-6)
  })

  test('every corner of the controls gives finite numbers', () => {
    for (const count of [2, 24])
      for (const spacingM of [0.04, 0.3])
        for (const frequencyHz of [63, 8000]) {
          const answer = columnAnswer({ column: { count, spacingM, heightM: 4, tiltRad: 0.25 }, frequencyHz })
          const numbers = [...answer.verticalDb, ...answer.horizontalDb, ...Object.values(answer.placesDb)]
          expect(numbers.every((value) => Number.isFinite(value) || value === Number.NEGATIVE_INFINITY)).toBe(true)
          expect(numbers.some(Number.isNaN)).toBe(false)
        }
  })

  test('a frequency between the bands is refused', () => {
    expect(() => columnAnswer({ column, frequencyHz: 1001 })).toThrow(/frequencyHz is 1001/)
    expect(() => columnAnswer({ column: { ...column, count: 0 }, frequencyHz: 1000 })).toThrow(/count is 0/)
  })
})

describe('the pictures', () => {
  const grid = { zMinM: -2, zMaxM: 2, across: 41, topM: 3.6, bottomM: -0.4, down: 41 }
  test('are 1 on the axis, blank within the column, and agree in levels and waves at low frequency', () => {
    const waves = columnPicture({ column, frequencyHz: 250, view: 'side', kind: 'waves', grid })
    const levels = columnPicture({ column, frequencyHz: 250, view: 'side', kind: 'levels', grid })
    if (waves.kind !== 'waves' || levels.kind !== 'levels') throw new Error('wrong kind of picture')
    const at = (row: number, column: number) => row * levels.columns + column
    const onAxis = at(35, 20)
    expect(Math.hypot(waves.re[onAxis] ?? 0, waves.im[onAxis] ?? 0)).toBeCloseTo(1, 2)
    expect(levels.levelDb[onAxis]).toBeCloseTo(0, 1)
    const up = at(30, 5)
    const waveDb = 20 * Math.log10(Math.hypot(waves.re[up] ?? 0, waves.im[up] ?? 0))
    expect(Math.abs(waveDb - (levels.levelDb[up] ?? 0))).toBeLessThan(0.5)
    // Just behind the front at the height of the middle: within the box.
    expect(levels.inside[at(19, 20)]).toBe(1)
    expect(levels.inside[at(19, 2)]).toBe(0)
    expect([...waves.re, ...waves.im, ...levels.levelDb].every(Number.isFinite)).toBe(true)
  })

  test('seen from above it is even to both sides', () => {
    const top = { ...grid, topM: -2, bottomM: 2 }
    const levels = columnPicture({ column, frequencyHz: 1000, view: 'top', kind: 'levels', grid: top })
    if (levels.kind !== 'levels') throw new Error('wrong kind of picture')
    expect(levels.levelDb[3 * 41 + 5]).toBeCloseTo(levels.levelDb[3 * 41 + 35] ?? Number.NaN, 4)
  })
})

describe('what is heard', () => {
  test('behind, the bass is as loud as on the axis and the treble is not', () => {
    const { hereDb } = columnHearing({ column, place: 'behind' })
    const level = (nominalHz: number) =>
      hereDb[spectrumBands.findIndex((band) => band.nominalHz === nominalHz)] ?? Number.NaN
    expect(level(63)).toBeGreaterThan(-1.5)
    expect(level(4000)).toBeLessThan(-15)
  })

  test('noise through the responses has the predicted third-octave levels, 40 Hz to 16 kHz within 0.5 dB', () => {
    const sampleRateHz = 48000
    const loop = pinkNoise({ sampleRateHz, durationS: 8, seed: 5 })
    const bands = thirdOctaveBands(40, 16000)
    const source = realDft(loop)
    const sourceDb = thirdOctaveLevelsDb(loop, sampleRateHz, bands)
    for (const place of columnPlaceIds) {
      const { hereDb } = columnHearing({ column, place })
      const { here, front } = columnResponses({ column, place, sampleRateHz, length: 8192 })
      for (const [response, predicted] of [
        [here, hereDb],
        [front, hereDb.map(() => 0)],
      ] as const) {
        const padded = new Float32Array(loop.length)
        padded.set(response)
        const filter = realDft(padded)
        const re = source.re.map((value, i) => value * (filter.re[i] ?? 0) - (source.im[i] ?? 0) * (filter.im[i] ?? 0))
        const im = source.re.map((value, i) => value * (filter.im[i] ?? 0) + (source.im[i] ?? 0) * (filter.re[i] ?? 0))
        const heard = thirdOctaveLevelsDb(
          Float32Array.from(inverseRealDft({ re, im }, loop.length)),
          sampleRateHz,
          bands,
        )
        bands.forEach(({ nominalHz }, index) => {
          const expected = predicted[spectrumBands.findIndex((band) => band.nominalHz === nominalHz)] ?? Number.NaN
          const error = (heard[index] ?? 0) - (sourceDb[index] ?? 0) - expected
          expect(Math.abs(error), `${place}, ${nominalHz} Hz: ${error.toFixed(2)} dB`).toBeLessThan(0.5)
        })
      }
    }
  })
})
