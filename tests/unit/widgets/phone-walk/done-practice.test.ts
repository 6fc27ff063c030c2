import { expect, test } from 'vitest'
import gear from '../../../../content/gear/top-over-sub.json' with { type: 'json' }
import { halfIntervalDb, type Rig } from '../../../../src/acoustics/index.ts'
import { demoHallStates } from '../../../../src/engine/scene/hall-content.ts'
import type { HallState } from '../../../../src/engine/scene/hall-terms.ts'
import { loadSolvedRig } from '../../../../src/engine/scene/solved-gear.ts'
import { donePractice } from '../../../../src/widgets/phone-walk/done-practice.ts'
import { readWalks, writeWalks } from '../../../../src/widgets/phone-walk/kept-walks.ts'

const rig = { name: gear.name, cabinets: gear.cabinets } as unknown as Rig

test('the practice walk says what the model says, through a phone that is neither flat nor quiet', async () => {
  await loadSolvedRig(rig)
  const { walk, answer, predicted } = donePractice(rig, (demoHallStates[0] as HallState).design)
  expect(answer.places).toHaveLength(3)
  let inside = 0
  let all = 0
  for (const [index, { bands, ranges }] of answer.places.entries()) {
    const expected = predicted[index]
    if (!expected || expected === 'outside') throw new Error(`${walk.places[index]?.key} has no prediction`)
    for (const [range, expectedDb] of [['bass', expected.bassDb] as const, ['treble', expected.trebleDb] as const]) {
      const told = ranges[range]
      if (told.kind !== 'told') throw new Error(`${range} is not told`)
      // Bass weighs its bands as the phone hears them, which is not flat: within a decibel of the plain sum.
      expect(Math.abs(-told.found.difference.levelDb - expectedDb), range).toBeLessThan(1)
    }
    bands.forEach(({ nominalHz, difference }, band) => {
      if (!difference || nominalHz < 40) return
      const off = Math.abs(-difference.levelDb - (expected.differenceDb[band] as number))
      // A tenth beyond the interval: the sound of a hall is brought to its levels in third octaves within that.
      if (off <= halfIntervalDb(difference) + 0.1) inside += 1
      all += 1
    })
  }
  expect(inside / all, `${inside} of ${all}`).toBeGreaterThan(0.9)
  // The phone is deaf in the lowest band, and the page says so.
  expect(answer.places.every(({ bands }) => bands[0]?.difference === null)).toBe(true)
  expect(readWalks(writeWalks([{ ...walk, name: 'practice' }]))).toHaveLength(1)
}, 120_000)
