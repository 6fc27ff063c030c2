import { readFileSync } from 'node:fs'
import { beforeAll, describe, expect, test } from 'vitest'
import type { Rig } from '../../../../../src/acoustics/index.ts'
import { hallMap, sourceInHall } from '../../../../../src/engine/questions/hall/hall-map.ts'
import { hallAnswer } from '../../../../../src/engine/questions/hall/hall-parts.ts'
import { hallStateKeys } from '../../../../../src/engine/scene/demo-hall.ts'
import { demoHallStates, hallStates } from '../../../../../src/engine/scene/hall-content.ts'
import { firstLateBandHz, hallFrontM } from '../../../../../src/engine/scene/hall-rig.ts'
import { evenHall } from '../../../../../src/engine/scene/hall-terms.ts'
import { loadSolvedRig } from '../../../../../src/engine/scene/solved-gear.ts'
import { spectrumBands } from '../../../../../src/engine/scene/third-octaves.ts'

const rig = JSON.parse(readFileSync('content/gear/top-over-sub.json', 'utf8')) as Rig
beforeAll(() => loadSolvedRig(rig))
const designOf = (key: string) => {
  const state = demoHallStates.find((each) => each.key === key)
  if (!state) throw new Error(`no hall ${key}`)
  return state.design
}
const place = { xM: 0, zM: -2.5 }
const ask = (key: string, change: Partial<Parameters<typeof hallAnswer>[0]> = {}) =>
  hallAnswer({ rig, hall: designOf(key), place, bandHz: 2000, ...change })
const at2k = spectrumBands.findIndex(({ nominalHz }) => nominalHz === 2000)

describe('the states of the hall', () => {
  test('have the finishes of the list, and people as absorption area', () => {
    const timber = designOf('timber')
    expect(timber.surfaces.wallLeft).toEqual([0.18, 0.12, 0.1, 0.09, 0.08, 0.07])
    expect(timber.objectsM2).toEqual([0, 0, 0, 0, 0, 0])
    // 150 m² of people on the floor, whose coefficient is that of the floor with them on it.
    expect(designOf('packed').objectsM2[4]).toBeCloseTo(150 * (0.81 - 0.06), 9)
    expect(designOf('curtains').surfaces.wallBehind[4]).toBe(0.59)
    expect(designOf('curtains').surfaces.wallOpposite).toEqual(timber.surfaces.wallOpposite)
  })
  test('refuse a finish that the list does not have', () => {
    const hall = JSON.parse(readFileSync('content/halls/tidewater-grange.json', 'utf8'))
    const finishes = JSON.parse(readFileSync('content/halls/finishes.json', 'utf8'))
    expect(() => hallStates({ ...hall, surfaces: { ...hall.surfaces, floor: 'ice' } }, finishes)).toThrow(
      'finish is ice',
    )
    const snowy = { ...hall.states.curtains, surfaces: { wallLeft: 'snow' } }
    expect(() => hallStates({ ...hall, states: { ...hall.states, snowy } }, finishes)).toThrow(
      /^content\/halls\/tidewater-grange\.json: states\.snowy\.surfaces\.wallLeft: finish is snow; allowed is hard-walls, /,
    )
    expect(() => hallStates(hall, { ...finishes, offeredForOneWall: ['hard-walls', 'hay'] })).toThrow(
      /^content\/halls\/finishes\.json: offeredForOneWall\.1: finish is hay; allowed is hard-walls, /,
    )
  })
  test('refuse a place of the rig outside, and words for people who are not there', () => {
    const hall = JSON.parse(readFileSync('content/halls/tidewater-grange.json', 'utf8'))
    const finishes = JSON.parse(readFileSync('content/halls/finishes.json', 'utf8'))
    const rigPlaces = { ...hall.rigPlaces, usual: { xM: -6, zM: 3 } }
    expect(() => hallStates({ ...hall, rigPlaces }, finishes)).toThrow('outside the hall')
    expect(() => hallStates({ ...hall, audience: { ...hall.audience, people: 250 } }, finishes)).toThrow(
      'audience.people is 250; allowed is a finite number from 0 to 198 m² of floor',
    )
    expect(hall.states.packed.description).toContain(`${hall.audience.people} people`)
  })
  test('are what the file has, one more with one entry more', () => {
    const hall = JSON.parse(readFileSync('content/halls/tidewater-grange.json', 'utf8'))
    const finishes = JSON.parse(readFileSync('content/halls/finishes.json', 'utf8'))
    const carpeted = {
      short: 'with carpet',
      description: 'carpet',
      surfaces: { floor: 'carpet-on-felt' },
      people: false,
    }
    const states = hallStates({ ...hall, states: { ...hall.states, carpeted } }, finishes)
    expect(states.map(({ key }) => key)).toEqual([...hallStateKeys, 'carpeted'])
    expect(states.at(-1)?.design.surfaces.floor).toEqual([0.08, 0.08, 0.3, 0.6, 0.75, 0.8])
    expect(states.at(-1)?.design.surfaces.ceiling).toEqual(states[0]?.design.surfaces.ceiling)
  })
})

describe('the parts of the sound in a hall', () => {
  test('direct sound is the same in every hall; what the hall adds falls with its absorption', () => {
    const [brick, timber, curtains] = ['brick', 'timber', 'curtains'].map((key) => ask(key)) as [
      ReturnType<typeof ask>,
      ReturnType<typeof ask>,
      ReturnType<typeof ask>,
    ]
    expect(timber.here.directDb).toEqual(brick.here.directDb)
    expect(curtains.trebleDirectDb).toBeCloseTo(timber.trebleDirectDb, 9)
    const late = (answer: ReturnType<typeof ask>) => answer.here.lateDb[at2k] as number
    expect(late(brick)).toBeGreaterThan(late(timber))
    expect(late(timber)).toBeGreaterThan(late(curtains) + 3)
    expect(timber.here.lateDb).toEqual(timber.front.lateDb)
  })
  test('the shares add to one and agree with the levels', () => {
    const { shares, here } = ask('timber')
    expect(shares.here.direct + shares.here.early + shares.here.late).toBeCloseTo(1, 9)
    const octave = (levels: number[]) =>
      levels.slice(at2k - 1, at2k + 2).reduce((sum, level) => sum + 10 ** (level / 10), 0)
    expect(shares.here.hall).toBeCloseTo(1 - octave(here.directDb) / octave(here.totalDb), 6)
  })
  test.each(hallStateKeys)(
    '%s: inside the line direct sound is the stronger part, on it half, outside it the hall',
    (key) => {
      const { equalM } = ask(key)
      const hallShareAt = (part: number) =>
        ask(key, { place: { xM: 0, zM: part * (equalM?.[0] as number) } }).shares.here.hall as number
      // The line takes half the lines of the shares, and ends within 1 %.
      expect(hallShareAt(1)).toBeCloseTo(0.5, 1)
      for (const part of [0.3, 0.6, 0.9]) expect(hallShareAt(part)).toBeLessThan(0.5)
      for (const part of [1.1, 1.4]) expect(hallShareAt(part)).toBeGreaterThan(0.5)
    },
  )
  test('where walls take nearly all, the line ends at the far wall, and that is told', () => {
    const hall = evenHall({ lengthM: 12, widthM: 11, heightM: 6 }, 0.8)
    const { equalM, equalToWall } = ask('timber', { hall })
    expect(equalToWall).toBe(true)
    expect(equalM?.[0]).toBeCloseTo(12 - 3 - 0.05, 9)
  })
  test('below the reverberant bands there is no such line, and resonances are not told apart', () => {
    const { equalM, here, lateFromHz, joiningHz } = ask('timber', { bandHz: 63 })
    expect(equalM).toBeNull()
    expect(lateFromHz).toBe(firstLateBandHz(joiningHz))
    spectrumBands.forEach(({ lowerHz }, index) => {
      expect(here.lateDb[index] === null).toBe(lowerHz < lateFromHz)
    })
  })
  test('the front is as far away as the listener, but stays within the hall', () => {
    expect(ask('timber').frontM).toBe(2.5)
    expect(hallFrontM(16.5, designOf('timber'))).toBeCloseTo(14.5, 9)
  })
  test('refuses a place in a box or outside, a band that is none, absorption out of range and a hall of no size', () => {
    expect(() => ask('timber', { place: { xM: 0, zM: -0.1 } })).toThrow('inside a cabinet')
    expect(() => ask('timber', { place: { xM: 0, zM: -9 } })).toThrow('outside the hall')
    expect(() => ask('timber', { place: { xM: Number.NaN, zM: 0 } })).toThrow('place.xM')
    expect(() => ask('timber', { bandHz: 1001 })).toThrow('bandHz is 1001')
    expect(() => ask('timber', { referenceDbA: 400 })).toThrow('referenceDbA is 400')
    const size = { lengthM: 18, widthM: 11, heightM: 4.6 }
    expect(() => ask('timber', { hall: evenHall(size, 1.2) })).toThrow(RangeError)
    expect(() => ask('timber', { hall: evenHall(size, -0.1) })).toThrow(RangeError)
    expect(() => ask('timber', { hall: evenHall({ ...size, widthM: 0 }, 0.1) })).toThrow('size.widthM is 0')
  })
})

describe('the map of one frequency', () => {
  test('is re its loudest place beside the box, and leaves the box out', () => {
    const map = hallMap({ rig, hall: designOf('timber'), frequencyHz: 47, source: 'usual' })
    expect(map.levelDb).toHaveLength(map.columns * map.rows)
    expect([...map.inside].some((value) => value === 1)).toBe(true)
    expect(map.quietestDb).toBeLessThan(-20)
    expect(map.loudest).toBe('corner-behind')
  })
  test('from the middle of the wall drives no resonance with a quiet line there', () => {
    // The third one across, at 46.8 Hz, has a node in the middle of the wall.
    const at = (source: 'corner' | 'middle') => hallMap({ rig, hall: designOf('brick'), frequencyHz: 47, source })
    expect(at('middle').loudestDb).toBeLessThan(at('corner').loudestDb - 3)
    const middle = sourceInHall('middle', rig, designOf('brick'))
    expect(middle.xM).toBe(0)
    expect(middle.zM).toBeCloseTo(0.76, 9)
  })
  test('refuses a frequency off its scale', () => {
    const ask = (frequencyHz: number) => hallMap({ rig, hall: designOf('timber'), frequencyHz, source: 'usual' })
    expect(() => ask(12)).toThrow('frequencyHz is 12')
    expect(() => ask(Number.NaN)).toThrow('frequencyHz')
  })
})
