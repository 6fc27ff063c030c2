import { readFileSync } from 'node:fs'
import { join } from 'node:path'
import { expect, test } from 'vitest'
import { wallAnswer } from '../../../../../src/engine/questions/wall/wall.ts'
import { wallFacts, wallTableGapsM } from '../../../../../src/engine/questions/wall/wall-facts.ts'
import { narrowBands } from '../../../../../src/engine/questions/wall/wall-terms.ts'
import { loadSolvedRig } from '../../../../../src/engine/scene/solved-gear.ts'

const gear = (name: string) =>
  JSON.parse(readFileSync(join(import.meta.dirname, '../../../../../content/gear', `${name}.json`), 'utf8'))
const [rig, compact] = [gear('top-over-sub'), gear('compact-two-way')]
for (const one of [rig, compact]) await loadSolvedRig(one)
const facts = wallFacts(rig)
const value = (name: keyof typeof facts) => facts[name].value

test('what the words say about the numbers is so', () => {
  // "It does not cancel, it gains."
  expect(value('change-at-rule-rise')).toBeGreaterThan(1)
  expect(value('dip')).toBeLessThan(value('rule-dip'))
  // "From … up to … the one behind has the stronger bass".
  const equal = wallAnswer({
    rig,
    surroundings: { kind: 'wall', gapM: value('there-and-back') / 2 - value('box-depth'), finish: 'hard-walls' },
    frontM: value('equal-distance'),
    fromWallM: value('rear-off-wall'),
    frequencyHz: 100,
  })
  // Every band of it, and none beyond: no threshold.
  for (const [band, { centreHz }] of narrowBands.entries()) {
    if (centreHz > 1.03 * value('more-to')) break
    const differenceDb = (equal.rearDb[band] as number) - (equal.frontDb[band] as number)
    expect(differenceDb > 0, `${centreHz} Hz`).toBe(centreHz < value('more-to'))
  }
  expect(value('more-from')).toBeCloseTo(25, 9)
  expect(value('more-to')).toBeGreaterThan(value('dip'))
  // "In the middle of the dip it has … more", which is the most; "within … of each other" where the wall lifts the front.
  expect(value('more-at-dip')).toBeGreaterThan(5)
  expect(value('apart-at-rise')).toBeLessThanOrEqual(1)
  expect(value('bass-at-equal-distance')).toBeGreaterThan(1)
  expect(value('share-rear')).toBeGreaterThan(value('share-front'))
  // "A small box has less of it", and listening from above makes it a little less.
  expect(wallFacts(compact)['seems-farther'].value).toBeLessThan(value('seems-farther'))
  expect(value('seems-farther')).toBeLessThan(value('centre-ahead'))
  // Wood and curtain make the dip shallower, by little.
  for (const name of ['dip-depth-timber', 'dip-depth-curtain'] as const) {
    expect(value(name)).toBeLessThan(value('dip-depth'))
    expect(value(name)).toBeGreaterThan(value('dip-depth') - 1.5)
  }
  // "just where it hands over to the top" (100 Hz), the compact an octave above, the turned one above the band.
  expect(Math.abs(value('dip-touching') - 100)).toBeLessThan(10)
  expect(wallFacts(compact)['dip-touching'].value).toBeGreaterThan(180)
  expect(value('turned-dip')).toBeGreaterThan(200)
  // "the wall at least as far behind the box as the nearest listeners are in front": then no dip is much over 3 dB.
  expect(value('shallow-beyond')).toBeLessThan(value('front-distance'))
})

test('down the table the dip falls and grows shallower, until in the last row it is the second one', () => {
  const rows = Object.keys(wallTableGapsM) as (keyof typeof wallTableGapsM)[]
  const depths = rows.map((row) => value(`depth-${row}`))
  expect(depths).toEqual([...depths].sort((a, b) => b - a))
  const dips = rows.slice(0, -1).map((row) => value(`dip-${row}`))
  expect(dips).toEqual([...dips].sort((a, b) => b - a))
  expect(value('rule-far')).toBeCloseTo((3 * 343.2) / (4 * value('face-far')), 1)
  for (const row of rows.slice(0, -1)) expect(value(`rule-${row}`)).toBeCloseTo(343.2 / (4 * value(`face-${row}`)), 1)
})
