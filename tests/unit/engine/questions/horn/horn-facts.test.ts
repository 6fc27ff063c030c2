import { readFileSync } from 'node:fs'
import { join } from 'node:path'
import { expect, test } from 'vitest'
import { hornControlHz, makeAir } from '../../../../../src/acoustics/index.ts'
import { demoHorn, hornFacts } from '../../../../../src/engine/questions/horn/horn-facts.ts'

const facts = hornFacts()
const value = (name: keyof typeof facts) => facts[name].value

test('the demo horn is the one of the demo top', () => {
  const gear = readFileSync(join(import.meta.dirname, '../../../../../content/gear/top-over-sub.json'), 'utf8')
  const { cabinets } = JSON.parse(gear) as { cabinets: { ways: { drivers: Record<string, number | string>[] }[] }[] }
  const horn = cabinets
    .flatMap(({ ways }) => ways)
    .flatMap(({ drivers }) => drivers)
    .find(({ kind }) => kind === 'horn')
  const degree = Math.PI / 180
  expect(horn).toMatchObject({ mouthWidthM: demoHorn.widthM, mouthHeightM: demoHorn.heightM })
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
