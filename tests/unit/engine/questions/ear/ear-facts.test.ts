import { expect, test } from 'vitest'
import { earFacts, turnedDown } from '../../../../../src/engine/questions/ear/ear-facts.ts'
import { walkAnswer } from '../../../../../src/engine/questions/walk/walk.ts'
import { loadSolvedRig } from '../../../../../src/engine/scene/solved-gear.ts'
import { demoRigNames, rigOf } from '../../../../demo-gear.ts'

test('ten decibels halve a tone of 1 kHz, and take more from 50 Hz', () => {
  const high = turnedDown(1000, 60, 10)
  expect(high.toSones / high.fromSones).toBeCloseTo(0.5, 9)
  const low = turnedDown(50, 60, 10)
  expect(low.fromSones).toBe(high.fromSones)
  expect(low.toSones).toBeLessThan(high.toSones)
})

test.each(demoRigNames())(
  '%s: what the lesson says holds: less bass loudness behind, a larger share of it',
  async (name) => {
    const rig = rigOf(name)
    await loadSolvedRig(rig)
    const facts = earFacts(rig)
    expect(facts['bass-sones-behind'].value).toBeLessThan(facts['bass-sones-front'].value)
    expect(facts['share-behind'].value).toBeGreaterThan(1.5 * facts['share-front'].value)
    expect(facts['sones-behind'].value).toBeLessThan(facts['sones-front'].value)
    for (const referenceDbA of [60, 65, 80, 95]) {
      const { heard } = walkAnswer({
        rig,
        place: { angleRad: Math.PI, distanceM: facts['compared-at'].value },
        datum: 'front-face',
        referenceDbA,
      })
      expect(heard.here.bassShare, `${referenceDbA} dB(A)`).toBeGreaterThan(heard.front.bassShare)
      expect(heard.here.bassSones, `${referenceDbA} dB(A)`).toBeLessThanOrEqual(heard.front.bassSones)
    }
  },
)
