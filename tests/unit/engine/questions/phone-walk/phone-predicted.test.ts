import { describe, expect, test } from 'vitest'
import gear from '../../../../../content/gear/top-over-sub.json' with { type: 'json' }
import type { Rig } from '../../../../../src/acoustics/index.ts'
import { phonePredicted } from '../../../../../src/engine/questions/phone-walk/phone-predicted.ts'
import { walkAnswer } from '../../../../../src/engine/questions/walk/walk.ts'
import { demoHallStates } from '../../../../../src/engine/scene/hall-content.ts'
import type { HallState } from '../../../../../src/engine/scene/hall-terms.ts'
import { loadSolvedRig } from '../../../../../src/engine/scene/solved-gear.ts'

const rig = { name: gear.name, cabinets: gear.cabinets } as unknown as Rig
const hall = { kind: 'hall', design: (demoHallStates[0] as HallState).design } as const

describe('what is predicted for a walk', () => {
  test.each([['outdoors', { kind: 'outdoors' } as const] as const, ['in the hall', hall] as const])(
    'is what the walk-round says, %s, for a front as far away',
    async (_, surroundings) => {
      await loadSolvedRig(rig)
      for (const angleDeg of [180, 90, -135]) {
        const place = { angleRad: (angleDeg * Math.PI) / 180, distanceM: 2.5 }
        const walked = walkAnswer({ rig, place, datum: 'front-face', surroundings })
        const [predicted] = phonePredicted({ rig, surroundings, frontM: 2.5, places: [{ angleDeg, distanceM: 2.5 }] })
        if (!predicted || predicted === 'outside') throw new Error('there is no prediction')
        expect(predicted.bassDb).toBeCloseTo(walked.bassDb, 9)
        expect(predicted.trebleDb).toBeCloseTo(walked.trebleDb, 9)
        // The walk-round shows no 25 Hz.
        expect(predicted.differenceDb.slice(1)).toHaveLength(walked.hereDb.length)
        predicted.differenceDb.slice(1).forEach((differenceDb, band) => {
          const expected = (walked.hereDb[band] as number) - (walked.frontDb[band] as number)
          expect(differenceDb).toBeCloseTo(expected, 9)
        })
      }
    },
    60_000,
  )

  test('keeps the order of the places: none for one that is not known, and no numbers where nobody can stand', () => {
    const places = [
      null,
      { angleDeg: 180, distanceM: 0.2 },
      { angleDeg: 180, distanceM: 2.5 },
      { angleDeg: 180, distanceM: 30 },
    ]
    const found = phonePredicted({ rig, surroundings: hall, frontM: 2.5, places })
    expect(found.map((each) => (typeof each === 'object' && each ? 'told' : each))).toEqual([
      null,
      'outside',
      'told',
      'outside',
    ])
    expect(phonePredicted({ rig, surroundings: { kind: 'outdoors' }, frontM: 2.5, places })[1]).toBe('outside')
  })

  test('a front that nobody can stand at is refused', () => {
    expect(() => phonePredicted({ rig, surroundings: hall, frontM: 40, places: [] })).toThrow(RangeError)
  })
})
