import { describe, expect, test } from 'vitest'
import {
  bestSteeringDrive,
  type SteeringSearch,
  widestSteeringDrive,
} from '../../../../src/acoustics/field/steering-drive.ts'

const c = 343
const frequenciesHz = [45, 55, 65, 75, 85]

/** Points on a line along z, seen at two spots on either side. */
function search(zM: number[], steps: number[]): SteeringSearch {
  const at = (spots: [number, number][]) =>
    zM.map((z) => {
      const values = frequenciesHz.flatMap((hz) =>
        spots.map(([x, zSpot]) => {
          const r = Math.hypot(x, zSpot - z)
          return [Math.cos((-2 * Math.PI * hz * r) / c) / r, Math.sin((-2 * Math.PI * hz * r) / c) / r] as const
        }),
      )
      return { re: values.map(([re]) => re), im: values.map(([, im]) => im) }
    })
  return {
    frequenciesHz,
    steps,
    front: at([
      [-1, 5],
      [0.5, 5],
    ]),
    behind: at([
      [-1, -4],
      [0.5, -4],
    ]),
    spots: 2,
    weights: [1, 2, 1, 0.5, 1],
    // As many boxes in one place, 5 m away.
    stackedFront: 5.5 * (zM.length / 5) ** 2,
    delaysS: Array.from({ length: 31 }, (_, i) => i * 2e-4),
    levelsDb: [0, -1, 1, -2, 2],
    mostFrontLossDb: 4,
  }
}

/** Every setting by the plain sum. */
function plainly({ steps, front, behind, spots, weights, stackedFront, ...rest }: SteeringSearch) {
  const energy = (side: typeof front, delayS: number, inverted: boolean, dB: number) => {
    let sum = 0
    for (const [line, hz] of rest.frequenciesHz.entries()) {
      for (let spot = 0; spot < spots; spot++) {
        let [re, im] = [0, 0]
        for (const [box, response] of side.entries()) {
          const step = steps[box] as number
          const gain = step === 0 ? 1 : (inverted ? -1 : 1) * 10 ** (dB / 20)
          const phase = -2 * Math.PI * hz * step * delayS
          const [a, b] = [response.re[line * spots + spot] as number, response.im[line * spots + spot] as number]
          re += gain * (a * Math.cos(phase) - b * Math.sin(phase))
          im += gain * (a * Math.sin(phase) + b * Math.cos(phase))
        }
        sum += ((re * re + im * im) * (weights[line] as number)) / spots
      }
    }
    return sum
  }
  let best = { delayS: 0, inverted: false, levelDb: 0, dB: Number.NEGATIVE_INFINITY, lossDb: 0 }
  let tried = 0
  for (const delayS of rest.delaysS) {
    for (const inverted of [false, true]) {
      for (const levelDb of rest.levelsDb) {
        tried++
        const inFront = energy(front, delayS, inverted, levelDb)
        // The loudest box plays as loud as those of the yardstick.
        const lossDb = 10 * Math.log10(stackedFront / inFront) + Math.max(0, levelDb)
        if (lossDb > rest.mostFrontLossDb) continue
        const dB = 10 * Math.log10(inFront / energy(behind, delayS, inverted, levelDb))
        if (dB > best.dB + 1e-9) best = { delayS, inverted, levelDb, dB, lossDb }
      }
    }
  }
  return { ...best, tried }
}

describe('the search for delay, polarity and level', () => {
  test.each([
    ['two boxes', [0, -1.2], [0, 1]],
    ['a middle box against two', [0, -0.7, 0], [0, 1, 0]],
    ['a line of four', [-3, -2, -1, 0], [0, 1, 2, 3]],
    ['boxes from the middle outward', [0, 0.2, 0.4, 0.7], [1, 0, 0, 1]],
  ])('finds what trying every setting by the plain sum finds: %s', (_, zM, steps) => {
    const one = search(zM, steps)
    const { drive, tried } = bestSteeringDrive(one)
    const plain = plainly(one)
    expect(tried).toBe(plain.tried)
    expect(drive).toMatchObject({ delayS: plain.delayS, inverted: plain.inverted, levelDb: plain.levelDb })
    expect(drive?.frontOverBehindDb).toBeCloseTo(plain.dB, 8)
    expect(drive?.frontLossDb).toBeCloseTo(plain.lossDb, 8)
  })

  test('gives none where all lose too much in front', () => {
    expect(bestSteeringDrive({ ...search([0, -1], [0, 1]), mostFrontLossDb: -40 }).drive).toBeNull()
  })

  test('ties go to the smaller delay, to normal polarity and to the first level', () => {
    // No box is one of the others, so that nothing changes anything.
    const { drive } = bestSteeringDrive({ ...search([0, 0], [0, 0]), mostFrontLossDb: 40 })
    expect(drive).toMatchObject({ delayS: 0, inverted: false, levelDb: 0 })
  })

  test('refuses lists that do not belong together', () => {
    expect(() => bestSteeringDrive({ ...search([0, -1], [0, 1]), steps: [0] })).toThrow(/front.length is 2/)
  })
})

describe('the widest drive', () => {
  test('keeps the rule over the longest run of lines of all that are tried, each by the plain sum', () => {
    const asked = search([0, -1.35], [0, 1])
    const rule = { rejectionDb: 6, frontLossDb: 3, distanceDb: 1, stackedFront: [0.14, 0.28, 0.14, 0.07, 0.14] }
    const found = widestSteeringDrive(asked, rule)
    let [longest, first] = [0, '']
    for (const delayS of asked.delaysS)
      for (const inverted of [false, true])
        for (const dB of asked.levelsDb) {
          let run = 0
          for (const [line, hz] of frequenciesHz.entries()) {
            const at = (side: typeof asked.front) => lineEnergy(asked, side, line, hz, delayS, inverted, dB)
            const [front, behind] = [at(asked.front), at(asked.behind)]
            const lossDb = 10 * Math.log10((rule.stackedFront[line] as number) / front) + Math.max(0, dB)
            const keeps = lossDb <= 3 && 10 * Math.log10(front / behind) - 1 >= 6
            run = keeps ? run + 1 : 0
            if (run > longest) [longest, first] = [run, `${delayS} ${inverted} ${dB}`]
          }
        }
    expect(longest).toBeGreaterThan(1)
    expect(longest).toBeLessThan(frequenciesHz.length + 1)
    expect(found && found.to - found.from + 1).toBe(longest)
    expect(found && `${found.delayS} ${found.inverted} ${found.levelDb}`).toBe(first)
  })

  test('is none where no drive keeps the rule', () => {
    const rule = { rejectionDb: 300, frontLossDb: 3, distanceDb: 0, stackedFront: [1, 1, 1, 1, 1] }
    expect(widestSteeringDrive(search([0, -1.35], [0, 1]), rule)).toBeNull()
  })
})

/** Energy of one line at a place, by the plain sum. */
function lineEnergy(
  { steps, spots, weights }: SteeringSearch,
  side: SteeringSearch['front'],
  line: number,
  hz: number,
  delayS: number,
  inverted: boolean,
  dB: number,
): number {
  let sum = 0
  for (let spot = 0; spot < spots; spot++) {
    let [re, im] = [0, 0]
    for (const [box, response] of side.entries()) {
      const step = steps[box] as number
      const gain = step === 0 ? 1 : (inverted ? -1 : 1) * 10 ** (dB / 20)
      const phase = -2 * Math.PI * hz * step * delayS
      const [a, b] = [response.re[line * spots + spot] as number, response.im[line * spots + spot] as number]
      re += gain * (a * Math.cos(phase) - b * Math.sin(phase))
      im += gain * (a * Math.sin(phase) + b * Math.cos(phase))
    }
    sum += ((re * re + im * im) * (weights[line] as number)) / spots
  }
  return sum
}
