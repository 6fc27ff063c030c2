import { describe, expect, test } from 'vitest'
import { savedHallsKey } from '../../../src/state/kept-list-change.ts'
import type { TextStore } from '../../../src/state/kept-text.ts'
import { changeCabinet, moveCabinet, removeCabinet, setGround } from '../../../src/state/plan-edits.ts'
import type { PlanHall } from '../../../src/state/plan-schema.ts'
import { hallOfPlan, savedHalls } from '../../../src/state/saved-halls.ts'
import { smallPlan } from './plan-samples.ts'

/** A store that can be made to refuse. */
class Shelf implements TextStore {
  texts = new Map<string, string>()
  isFull = false
  isShut = false
  getItem(key: string) {
    if (this.isShut) throw new Error('refused')
    return this.texts.get(key) ?? null
  }
  setItem(key: string, text: string) {
    if (this.isFull || this.isShut) throw new Error('no room')
    this.texts.set(key, text)
  }
}
const barn = hallOfPlan(smallPlan)
const lawn = hallOfPlan(setGround(smallPlan, { kind: 'outdoors', lengthM: 20, widthM: 12, ground: 'grass' }))

describe('the hall of a plan', () => {
  test('has the plan’s ground, its places with the main one first, and a rig where the first box stands', () => {
    expect(barn).toEqual({
      ground: smallPlan.ground,
      rigAt: { xM: -2.5, zM: 3 },
      places: [
        { name: 'Dance floor', xM: 0, zM: 8 },
        { name: 'Tables', xM: -2.5, zM: 0.5 },
      ],
    })
    expect(hallOfPlan({ ...smallPlan, mainPlace: 'p2' }).places[0]?.name).toBe('Tables')
  })

  test('leaves a stack room before the walls, in every hall that a plan may be; in the open nothing is in its way', () => {
    const turned = changeCabinet(smallPlan, 'c1', { group: '', yawDeg: 90 })
    const beside = moveCabinet(turned, 'c1', { xM: 5.4, zM: 0.5 })
    expect(hallOfPlan(beside).rigAt).toEqual({ xM: 4.7, zM: 1.2 })
    const small = setGround(beside, { ...(smallPlan.ground as PlanHall), lengthM: 3, widthM: 3 })
    expect(hallOfPlan(small).rigAt).toEqual({ xM: 0.7, zM: 1.1 })
    const open = setGround(beside, { kind: 'outdoors', lengthM: 3, widthM: 3, ground: 'hard' })
    expect(hallOfPlan(open).rigAt).toEqual({ xM: 5.4, zM: 0.5 })
    const empty = removeCabinet(removeCabinet(smallPlan, 'c1'), 'c2')
    expect(hallOfPlan(empty).rigAt).toEqual({ xM: 0, zM: 4.5 })
  })
})

describe('halls on the device', () => {
  test('come back as they were, are replaced by name, and go one by one', async () => {
    const shelf = new Shelf()
    expect((await savedHalls.save(' Barn ', barn, shelf)).thing).toEqual({ key: 'own-barn', name: 'Barn', hall: barn })
    await savedHalls.save('Lawn', lawn, shelf)
    await savedHalls.save('Barn', lawn, shelf)
    expect(savedHalls.read(shelf)).toEqual({
      things: [
        { key: 'own-barn', name: 'Barn', hall: lawn },
        { key: 'own-lawn', name: 'Lawn', hall: lawn },
      ],
      problems: [],
    })
    await savedHalls.remove('own-barn', shelf)
    expect(savedHalls.read(shelf).things.map(({ name }) => name)).toEqual(['Lawn'])
  })

  test('one that came from somebody else never takes the place of another', async () => {
    const shelf = new Shelf()
    await savedHalls.save('Barn', barn, shelf)
    expect((await savedHalls.add('Barn', barn, shelf)).thing?.key).toBe('own-barn')
    expect((await savedHalls.add('Barn', lawn, shelf)).thing?.name).toBe('Barn (2)')
    expect(savedHalls.read(shelf).things).toHaveLength(2)
  })

  test('a name that is none, a hall that is none, a full and a shut device are told, and nothing is lost', async () => {
    const shelf = new Shelf()
    await savedHalls.save('Barn', barn, shelf)
    const before = shelf.texts.get(savedHallsKey)
    expect((await savedHalls.save('  ', barn, shelf)).problem).toMatch(/1 to 60 letters/)
    const flat = { ...barn, ground: { ...barn.ground, heightM: 0 } }
    expect((await savedHalls.save('Flat', flat as never, shelf)).problem).toMatch(/heightM: is 0; allowed is 2.2 to 20/)
    shelf.isFull = true
    expect((await savedHalls.save('Lawn', lawn, shelf)).problem).toMatch(/no room/)
    expect(await savedHalls.remove('own-barn', shelf)).toMatch(/no room/)
    shelf.isShut = true
    expect((await savedHalls.save('Lawn', lawn, shelf)).problem).toMatch(/does not let the page keep/)
    expect(savedHalls.read(shelf)).toEqual({ things: [], problems: [] })
    shelf.isFull = shelf.isShut = false
    expect(shelf.texts.get(savedHallsKey)).toBe(before)
  })

  test('what cannot be read stays beside what is saved; a newer page’s is not touched', async () => {
    const shelf = new Shelf()
    shelf.texts.set(savedHallsKey, 'torn')
    expect(savedHalls.read(shelf).problems[0]).toMatch(/cannot be read/)
    await savedHalls.save('Barn', barn, shelf)
    expect(shelf.texts.get(`${savedHallsKey}.unread.1`)).toBe('torn')
    shelf.texts.set(savedHallsKey, JSON.stringify({ version: 1, halls: [{ odd: true }] }))
    await savedHalls.save('Barn', barn, shelf)
    expect(JSON.parse(shelf.texts.get(savedHallsKey) ?? '').halls).toHaveLength(2)
    shelf.texts.set(savedHallsKey, JSON.stringify({ version: 9, halls: [] }))
    expect((await savedHalls.save('Barn', barn, shelf)).problem).toMatch(/newer version/)
    expect(shelf.texts.get(savedHallsKey)).toBe(JSON.stringify({ version: 9, halls: [] }))
  })
})
