import { describe, expect, test } from 'vitest'
import { hallOfPlan, type SavedHall } from '../../../../src/state/saved-halls.ts'
import { placesOf } from '../../../../src/widgets/rig-choice/hall-choice.ts'
import { ownHallChoice } from '../../../../src/widgets/rig-choice/own-halls.ts'
import { hallField } from '../../../../src/widgets/rig-choice/rig-choice.ts'
import { smallPlan } from '../../state/plan-samples.ts'

const saved: SavedHall = { key: 'own-barn', name: 'Barn', hall: hallOfPlan(smallPlan) }

describe('a hall of the reader’s own on offer', () => {
  test('is the plan’s, with a rig where the first box stands and the places round it', () => {
    const [choice] = ownHallChoice(saved)
    expect(choice).toMatchObject({
      key: 'own-barn',
      short: 'My hall: Barn',
      places: [
        { name: 'Dance floor', xM: 2.5, zM: 5 },
        { name: 'Tables', xM: 0, zM: -2.5 },
      ],
    })
    expect(choice?.design).toMatchObject({ lengthM: 18, widthM: 11, heightM: 4.6, rigAt: { xM: -2.5, zM: 3 } })
  })

  test('in the open it is the ground alone; one that came with a link says so', () => {
    const hall = { ...saved.hall, ground: { kind: 'outdoors', lengthM: 20, widthM: 12, ground: 'grass' } as const }
    const [choice] = ownHallChoice({ key: 'sent-1', name: 'Lawn', hall })
    expect(choice?.design).toBeUndefined()
    expect(choice?.ground).toBe('grass')
    expect(choice?.short).toBe('Sent hall: Lawn')
    expect(choice?.description).toMatch(/came with the link.*on grass/)
  })

  test('of a finish that this page does not know it is left out', () => {
    const { ground } = saved.hall
    if (ground.kind !== 'hall') throw new Error('no hall')
    const odd = { ...ground, surfaces: { ...ground.surfaces, floor: 'lava' } }
    expect(ownHallChoice({ ...saved, hall: { ...saved.hall, ground: odd } })).toEqual([])
  })

  test('the listener goes behind the rig where somebody listens there, else to the next best place', () => {
    const [main, bar, table] = [
      { name: 'Floor', xM: 0, zM: 5 },
      { name: 'Bar', xM: 3, zM: 9 },
      { name: 'Table', xM: 0, zM: -2 },
    ] as const
    expect(placesOf({ places: [main, bar, table] })).toEqual({ front: main, behind: table })
    expect(placesOf({ places: [main, bar] })).toEqual({ front: main, behind: bar })
    expect(placesOf({ places: [main] })).toEqual({ front: main, behind: main })
    expect(placesOf({})).toEqual({})
  })

  test('a link that names one that is not here says where it is', () => {
    const { read } = hallField(['timber', 'own-barn'], 'timber')
    expect(read('own-barn')).toBe('own-barn')
    expect(read('own-gone')).toMatchObject({ reason: expect.stringMatching(/somebody’s own hall.*was deleted/) })
    expect(read('sent-1')).toMatchObject({
      reason: expect.stringMatching(/own hall, which did not come with the link/),
    })
    expect(read('castle')).toMatchObject({ reason: expect.stringMatching(/timber/) })
  })
})
