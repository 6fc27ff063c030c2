import { readFileSync } from 'node:fs'
import { join } from 'node:path'
import { expect, test } from 'vitest'
import { hornControlHz, makeAir } from '../../../../../src/acoustics/index.ts'
import { demoHorn, hornFacts } from '../../../../../src/engine/questions/horn/horn-facts.ts'

const facts = hornFacts()
const value = (name: keyof typeof facts) => facts[name].value

test('the demo horn is the one of the demo top', () => {
  const gear = readFileSync(join(import.meta.dirname, '../../../../../content/gear/top-over-sub.json'), 'utf8')
  const { cabinets } = JSON.parse(gear) as {
    cabinets: { ways: { highPass?: { frequencyHz: number }; drivers: Record<string, number | string>[] }[] }[]
  }
  const horn = cabinets
    .flatMap(({ ways }) => ways)
    .flatMap(({ drivers }) => drivers)
    .find(({ kind }) => kind === 'horn')
  const degree = Math.PI / 180
  expect(horn).toMatchObject({ mouthWidthM: demoHorn.widthM, mouthHeightM: demoHorn.heightM })
  const way = cabinets.flatMap(({ ways }) => ways).find(({ drivers }) => drivers.some(({ kind }) => kind === 'horn'))
  expect(way).toMatchObject({ highPass: { frequencyHz: value('crossover') } })
  expect(horn?.['horizontalCoverageRad']).toBeCloseTo(demoHorn.horizontalDeg * degree, 12)
  expect(horn?.['verticalCoverageRad']).toBeCloseTo(demoHorn.verticalDeg * degree, 12)
})

test('what the words say about the numbers is so', () => {
  // "It lies in the middle of what the even mouth asks for."
  const ruleConstant = hornControlHz(1, Math.PI / 180, makeAir())
  expect(ruleConstant).toBeGreaterThan(value('line-constant-narrow'))
  expect(ruleConstant).toBeLessThan(value('line-constant-90'))
  // "In the treble both hold. In the middle only the door does. At 100 Hz neither."
  expect(Math.min(value('small-beside-2k'), value('large-beside-2k'))).toBeGreaterThan(6)
  expect(value('small-beside-500')).toBeLessThan(3)
  expect(value('large-beside-500')).toBeGreaterThan(6)
  expect(Math.max(value('small-beside-100'), value('large-beside-100'))).toBeLessThan(3)
  // "about an octave higher than its 90°"
  expect(Math.log2(value('lets-go-upright') / value('lets-go'))).toBeCloseTo(1, 0)
  // "never wider than the label allows over all it plays, but too narrow at first"; "within a fifth of the 90° or a little over".
  expect(value('crossover-angle')).toBeLessThan(0.8 * 90)
  expect(value('narrow-to')).toBeGreaterThan(value('crossover'))
  expect(value('widest-angle')).toBeLessThan(1.25 * 90)
  // Up and down: too wide at the crossover, then right, then too narrow.
  expect(value('crossover-angle-upright')).toBeGreaterThan(1.2 * 60)
  expect(value('narrow-from-upright')).toBeGreaterThan(value('lets-go-upright'))
  expect(value('waist-angle-upright')).toBeLessThan(0.8 * 60)
  expect(value('narrow-to-upright')).toBeGreaterThan(value('waist-frequency-upright'))
  // The crossover at 1.8 kHz lies between the two.
  expect(value('lets-go')).toBeLessThan(1800)
  expect(value('lets-go-upright')).toBeGreaterThan(1800)
  // "narrower than the label, just above where it lets go"
  expect(value('waist-angle')).toBeLessThan(90)
  expect(value('waist-frequency')).toBeGreaterThan(value('lets-go'))
})

test('the constant of a narrow even mouth is 0.603355 · 2 · 180/π · c', () => {
  expect(value('line-constant-narrow') / ((0.603355 * 360 * 343.2) / Math.PI)).toBeCloseTo(1, 4)
})
