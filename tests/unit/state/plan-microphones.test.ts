import { describe, expect, test } from 'vitest'
import { freshId } from '../../../src/state/plan-edits.ts'
import { readPlan, writePlan } from '../../../src/state/plan-file.ts'
import { behindId, frontId, onAxis, placeMicrophones, removeMicrophones } from '../../../src/state/plan-microphones.ts'
import type { PlanCabinet } from '../../../src/state/plan-schema.ts'
import { known, smallPlan } from './plan-samples.ts'

const names = { front: 'Microphone in front', behind: 'Microphone behind' }
const at = { frontM: 3, behindM: 2, frontHeightM: 1.5, behindHeightM: 1.4 }
const [box] = smallPlan.cabinets as [PlanCabinet]

describe('the microphones of a test in a plan', () => {
  test('stand on the axis of the box, so far before and behind its front', () => {
    const { places } = placeMicrophones(smallPlan, box, at, names)
    expect(places.slice(-2)).toEqual([
      { id: frontId, name: names.front, xM: -2.5, zM: 6, earM: 1.5 },
      { id: behindId, name: names.behind, xM: -2.5, zM: 1, earM: 1.4 },
    ])
    // A box turned by 90° to the right faces +x.
    expect(onAxis({ ...box, yawDeg: 90 }, 2)).toEqual({ xM: -0.5, zM: 3 })
    expect(onAxis({ ...box, yawDeg: 90 }, -2)).toEqual({ xM: -4.5, zM: 3 })
  })

  test('put there again they move, and taken away leave the plan as it was', () => {
    const once = placeMicrophones(smallPlan, box, at, names)
    const twice = placeMicrophones(once, box, { ...at, frontM: 4 }, names)
    expect(twice.places).toHaveLength(once.places.length)
    expect(twice.places.find(({ id }) => id === frontId)?.zM).toBe(7)
    expect(removeMicrophones(twice)).toEqual(smallPlan)
  })

  test('come through a file, and leave the next place an id of its own', () => {
    const once = placeMicrophones(smallPlan, box, at, names)
    expect(readPlan(writePlan(once), known)).toEqual(once)
    expect(once.places.map(({ id }) => id)).not.toContain(freshId(once, 'p'))
  })
})
