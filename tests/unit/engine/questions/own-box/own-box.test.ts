import { readFileSync } from 'node:fs'
import { join } from 'node:path'
import { describe, expect, test } from 'vitest'
import { makeAir, spherePiston, thirdOctaveBands } from '../../../../../src/acoustics/index.ts'
import { ownBoxBand, ownBoxKnown } from '../../../../../src/engine/questions/own-box/own-box.ts'
import {
  boxAnglesDeg,
  type OwnBox,
  type OwnBoxBand,
  ownBoxBands,
  solvingOrderHz,
  wrapAnswer,
} from '../../../../../src/engine/questions/own-box/own-box-terms.ts'

const gear = JSON.parse(
  readFileSync(join(import.meta.dirname, '../../../../../content/gear/top-over-sub.json'), 'utf8'),
)
const top: OwnBox = gear.cabinets[0]
const cone: OwnBox = {
  widthM: 0.32,
  heightM: 0.56,
  depthM: 0.3,
  ways: [{ name: 'cone', drivers: [{ kind: 'piston', radiusM: 0.105, xM: 0, yM: -0.135 }] }],
}
const solved = (box: OwnBox, nominalHz: number) => ownBoxBand({ box, nominalHz, solved: true })

describe('a band of the own box', () => {
  test('low down the box wraps: all round as loud, no gain, no directivity', () => {
    const band = solved(cone, 31.5)
    expect(band.model).toBe('boundary-elements')
    for (const level of band.roundDb) expect(Math.abs(level)).toBeLessThan(0.15)
    expect(band.frontGainDb).toBeCloseTo(0, 1)
    expect(band.directivityIndexDb).toBeCloseTo(0, 1)
  })

  test('high up the front gains on a point source and the rear is far down', () => {
    const band = solved(cone, 1600)
    expect(band.frontGainDb).toBeGreaterThan(4)
    expect(band.frontGainDb).toBeLessThan(9)
    expect(band.rearDb).toBeLessThan(-12)
    expect(band.directivityIndexDb).toBeGreaterThan(6)
    expect(band.unknowns).toBeGreaterThan(500)
    expect(band.estimatedErrorDb).not.toBeNull()
  })

  test('the closed form is that of a hard ball of equal surface', () => {
    const air = makeAir()
    const radiusM = Math.sqrt((2 * (0.32 * 0.56 + 0.32 * 0.3 + 0.56 * 0.3)) / (4 * Math.PI))
    const shape = { radiusM, capHalfAngleRad: Math.asin(0.105 / radiusM), motion: 'axial' as const }
    const centreHz = thirdOctaveBands(500, 500)[0]?.centreHz ?? Number.NaN
    const ball = spherePiston(shape, centreHz, air)
    const band = ownBoxBand({ box: cone, nominalHz: 500, solved: false })
    expect(band.model).toBe('closed-form')
    expect(band.estimatedErrorDb).toBeNull()
    expect(band.rearDb).toBeCloseTo(ball.farFieldDb(Math.PI, 0), 6)
    expect(band.directivityIndexDb).toBeCloseTo(ball.directivityIndexDb, 6)
  })

  test('the pattern is 0 dB in front, meets itself behind, and is the same left and right of a symmetric box', () => {
    const { roundDb, rearDb, sideDb } = solved(top, 1250)
    expect(boxAnglesDeg).toHaveLength(roundDb.length)
    expect(roundDb[boxAnglesDeg.indexOf(0)]).toBeCloseTo(0, 9)
    expect(roundDb[0]).toBeCloseTo(rearDb, 6)
    roundDb.forEach((level, index) => {
      expect(level).toBeCloseTo(roundDb[roundDb.length - 1 - index] ?? Number.NaN, 4)
    })
    expect(sideDb).toBeCloseTo(roundDb[boxAnglesDeg.indexOf(90)] ?? Number.NaN, 4)
  })

  test('two ways that cross over far above a band are the lower one alone there', () => {
    const low = { ...top, ways: top.ways.slice(0, 1) }
    expect(solved(top, 250).rearDb).toBeCloseTo(solved(low, 250).rearDb, 9)
  })

  test('a band that does not exist and a box that is not sound are refused by name', () => {
    expect(() => solved(cone, 1001)).toThrow(/nominalHz is 1001/)
    expect(() => solved({ ...cone, widthM: Number.NaN }, 1000)).toThrow(/widthM is NaN/)
    expect(() => ownBoxKnown({ box: { ...cone, depthM: 0 } })).toThrow(/depthM is 0/)
  })
})

test('the first picture has all 19 bands, and the limit lies between the rules of thumb it is compared with', () => {
  const { bands } = ownBoxKnown({ box: top })
  expect(bands.map(({ nominalHz }) => nominalHz)).toEqual(ownBoxBands.map(({ nominalHz }) => nominalHz))
  expect(bands).toHaveLength(19)
  const wrap = wrapAnswer(bands, top.widthM)
  expect(wrap.wavelengthIsWidthHz).toBeCloseTo(343.2 / 0.32, 6)
  expect(wrap.computedHz).toBeGreaterThan(wrap.kaIsOneHz)
  expect(wrap.computedHz).toBeLessThan(wrap.wavelengthIsWidthHz)
})

test('the limit is settled once every band up to the first that is under it is solved, whatever is above', () => {
  const rearsDb = [-1, -4, -8, -5, -9]
  const bandsSolved = (solvedHz: number[]) =>
    ownBoxBands.slice(0, rearsDb.length).map(
      ({ nominalHz }, index) =>
        ({
          nominalHz,
          rearDb: rearsDb[index],
          model: solvedHz.includes(nominalHz) ? 'boundary-elements' : 'closed-form',
        }) as OwnBoxBand,
    )
  const [a, b, c, d, e] = ownBoxBands.map(({ nominalHz }) => nominalHz) as [number, number, number, number, number]
  const settled = (...solvedHz: number[]) => wrapAnswer(bandsSolved(solvedHz), 0.5).settled
  expect(settled()).toBe(false)
  expect(settled(a, b)).toBe(false)
  expect(settled(b, c, d, e)).toBe(false)
  expect(settled(a, b, c)).toBe(true)
  const nowhere = (solvedHz: number[]) => bandsSolved(solvedHz).map((band) => ({ ...band, rearDb: -1 }))
  expect(wrapAnswer(nowhere([a, b, c, d]), 0.5)).toMatchObject({ computedHz: 'above', settled: false })
  expect(wrapAnswer(nowhere([a, b, c, d, e]), 0.5)).toMatchObject({ computedHz: 'above', settled: true })
})

test('the order of solving takes every band once', () => {
  expect([...solvingOrderHz].sort((a, b) => a - b)).toEqual(ownBoxBands.map(({ nominalHz }) => nominalHz))
  expect(solvingOrderHz[0]).toBe(31.5)
  expect(solvingOrderHz.at(-1)).toBe(630)
})
