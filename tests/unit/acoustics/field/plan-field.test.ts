import { describe, expect, it } from 'vitest'
import topOverSub from '../../../../content/gear/top-over-sub.json' with { type: 'json' }
import { type Band, thirdOctaveBands } from '../../../../src/acoustics/bands/octave-bands.ts'
import { bandLevelsDb } from '../../../../src/acoustics/field/band-levels.ts'
import { frontPoint } from '../../../../src/acoustics/field/listening-place.ts'
import { planLevelReFrontDb, planPressure } from '../../../../src/acoustics/field/plan-field.ts'
import { checkPlanGrid, type PlanGrid, planGridPoint } from '../../../../src/acoustics/field/plan-grid.ts'
import type { Rig } from '../../../../src/acoustics/field/rig.ts'
import { rigField } from '../../../../src/acoustics/field/rig-field.ts'
import { makeAir } from '../../../../src/acoustics/medium/air.ts'

const rig = topOverSub as Rig
const field = rigField(rig, makeAir())
const grid: PlanGrid = { xMinM: -3, xMaxM: 3, zMinM: -4, zMaxM: 4, columns: 25, rows: 33, heightM: 1.6 }

describe('the field on a plan', () => {
  it('is the transfer function at each point, row by row', () => {
    const plan = planPressure(field, grid, 250)
    const point = planGridPoint(grid, 7, 20)
    const transfer = field.transferAt(point, 250)
    expect(plan?.re[20 * 25 + 7]).toBeCloseTo(transfer.re, 6)
    expect(plan?.im[20 * 25 + 7]).toBeCloseTo(transfer.im, 6)
    expect(planGridPoint(grid, 0, 0)).toEqual({ xM: -3, yM: 1.6, zM: -4 })
    expect(planGridPoint(grid, 24, 32)).toEqual({ xM: 3, yM: 1.6, zM: 4 })
  })

  it('is masked and 0 inside a cabinet cut by the plan’s height, and only there', () => {
    const close = { xMinM: -0.5, xMaxM: 0.5, zMinM: -1, zMaxM: 0.2, columns: 41, rows: 49, heightM: 0.3 }
    const plan = planPressure(field, close, 80)
    const level = planLevelReFrontDb(field, close, thirdOctaveBands(80, 80)[0] as Band)
    if (!plan || !level) throw new Error('stopped')
    for (let row = 0; row < 49; row++) {
      for (let column = 0; column < 41; column++) {
        const { xM, zM } = planGridPoint(close, column, row)
        const index = row * 41 + column
        const inBox = Math.abs(xM) < 0.28 - 1e-6 && zM < -1e-6 && zM > -0.66 + 1e-6
        const onEdge = Math.abs(Math.abs(xM) - 0.28) < 1e-6 || Math.abs(zM) < 1e-6 || Math.abs(zM + 0.66) < 1e-6
        if (onEdge) continue
        expect(plan.inside[index] === 1, `${xM}, ${zM}`).toBe(inBox)
        expect(plan.re[index] === 0 && plan.im[index] === 0).toBe(inBox)
        expect(Number.isFinite(level.levelDb[index])).toBe(true)
        expect(level.inside[index]).toBe(plan.inside[index])
      }
    }
    const between = planPressure(field, { ...close, heightM: 1.2 }, 80)
    expect(between?.inside.some((value) => value === 1)).toBe(false)
  })

  it('re front is 0 dB along the front axis and what two places say elsewhere', () => {
    // 0.05 dB: the front levels are interpolated between 200 distances
    for (const nominalHz of [63, 500, 4000]) {
      const band = thirdOctaveBands(nominalHz, nominalHz)[0] as Band
      const plan = planLevelReFrontDb(field, grid, band)
      if (!plan) throw new Error('stopped')
      for (const row of [20, 25, 32]) expect(Math.abs(plan.levelDb[row * 25 + 12] as number)).toBeLessThan(0.05)
      for (const [column, row] of [
        [12, 2],
        [20, 5],
        [3, 30],
      ] as const) {
        const point = planGridPoint(grid, column, row)
        const front = frontPoint(Math.hypot(point.xM, point.zM), 1.6)
        const [here, there] = [point, front].map(
          (place) => bandLevelsDb((frequencyHz) => field.transferAt(place, frequencyHz), [band], 3)[0] as number,
        ) as [number, number]
        expect(Math.abs((plan.levelDb[row * 25 + column] as number) - (here - there))).toBeLessThan(0.05)
      }
    }
  })

  it('stops between rows when asked', () => {
    let rows = 0
    const stop = () => {
      rows += 1
      return rows > 5
    }
    expect(planPressure(field, grid, 100, stop)).toBeUndefined()
    expect(rows).toBe(6)
    const options = { shouldStop: () => true }
    expect(planLevelReFrontDb(field, grid, thirdOctaveBands(80, 80)[0] as Band, options)).toBeUndefined()
  })

  it('refuses grids without a size', () => {
    expect(() => checkPlanGrid({ ...grid, columns: 1 })).toThrow(/columns is 1/)
    expect(() => checkPlanGrid({ ...grid, xMaxM: -3 })).toThrow(/xMaxM is -3/)
    expect(() => planPressure(field, { ...grid, heightM: Number.NaN }, 100)).toThrow(/heightM/)
  })
})
