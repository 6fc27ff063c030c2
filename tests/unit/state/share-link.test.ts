import { describe, expect, test } from 'vitest'
import { enclosedIn } from '../../../src/state/enclosed-text.ts'
import { flagField, numberField, wordField } from '../../../src/state/link-fields.ts'
import { addressToSend, anchorIn, withEnclosed } from '../../../src/state/link-to-send.ts'
import { anchorOf, defaultState, type LinkSchema, readLink, writeLink } from '../../../src/state/share-link.ts'

type Toy = { angleDeg: number; rig: string; bold: boolean }
const toy: LinkSchema<Toy> = {
  name: 'toy',
  version: 1,
  fields: {
    angleDeg: { read: numberField(-180, 180, 'degrees'), default: 180 },
    rig: { read: wordField(['big', 'small']), default: 'big' },
    bold: {
      read: flagField,
      default: false,
    },
  },
}
const read = (query: string) => readLink(toy, new URLSearchParams(query))

describe('a share link', () => {
  test('an empty one gives the defaults and nothing dropped', () => {
    expect(read('')).toMatchObject({ state: { angleDeg: 180, rig: 'big', bold: false }, dropped: [] })
  })

  test('holds only what differs from the defaults, with the version', () => {
    const params = writeLink(toy, { angleDeg: 90, rig: 'big', bold: true }, new URLSearchParams('other.x=1'))
    expect(params.toString()).toBe('other.x=1&toy.v=1&toy.angleDeg=90&toy.bold=true')
    expect(writeLink(toy, defaultState(toy), params).toString()).toBe('other.x=1')
  })

  test('what is written is read back', () => {
    const state = { angleDeg: -37, rig: 'small', bold: true }
    expect(readLink(toy, writeLink(toy, state, new URLSearchParams()))).toMatchObject({ state, dropped: [] })
  })

  test('a page’s own preset stands where the link is silent, and is left out of the link', () => {
    const preset = { angleDeg: 45, rig: 'small', bold: false }
    expect(readLink(toy, new URLSearchParams('toy.bold=true'), preset).state).toEqual({ ...preset, bold: true })
    expect(writeLink(toy, preset, new URLSearchParams(), preset).toString()).toBe('')
    expect(writeLink(toy, { ...preset, angleDeg: 180 }, new URLSearchParams(), preset).get('toy.angleDeg')).toBe('180')
  })

  test('a link of an older version opens in what stood then where it is silent', () => {
    const newer = { ...toy, version: 2, unsaid: { 1: { rig: 'small' } } }
    const from = (query: string) => readLink(newer, new URLSearchParams(query))
    expect(from('toy.v=1&toy.bold=true')).toMatchObject({ state: { rig: 'small', bold: true }, dropped: [] })
    expect(from('toy.v=1&toy.rig=big').state.rig).toBe('big')
    for (const query of ['', 'toy.bold=true', 'toy.v=2&toy.bold=true', 'toy.v=x'])
      expect(from(query).state.rig).toBe('big')
  })

  test.each([
    ['toy.angleDeg=181', 'angleDeg “181” (outside -180 to 180 degrees)'],
    ['toy.angleDeg=NaN', 'angleDeg “NaN” (not a number from -180 to 180 degrees)'],
    ['toy.angleDeg=1e400', 'angleDeg “1e400” (not a number from -180 to 180 degrees)'],
    ['toy.angleDeg=', 'angleDeg “” (not a number from -180 to 180 degrees)'],
    ['toy.rig=huge', 'rig “huge” (not one of: big, small)'],
    ['toy.rig=%3Cscript%3Ealert(1)%3C%2Fscript%3E', 'rig “<script>alert(1)</script” (not one of: big, small)'],
    ['toy.colour=red', '“colour” (not known here)'],
    ['toy.__proto__=1', '“__proto__” (not known here)'],
    ['toy.constructor=1', '“constructor” (not known here)'],
    ['toy.v=2', 'parts that a newer version of this page wrote'],
    ['toy.v=x', 'version (not a whole number)'],
  ])('%s keeps the default and says what was dropped', (query, said) => {
    const { state, dropped } = read(query)
    expect(state).toEqual(defaultState(toy))
    expect(dropped).toHaveLength(1)
    expect(dropped[0]).toContain(said.slice(0, 24))
  })

  test('what can be read is read, though its neighbour is broken', () => {
    const { state, dropped } = read('toy.v=1&toy.angleDeg=30&toy.rig=%00')
    expect(state.angleDeg).toBe(30)
    expect(dropped).toHaveLength(1)
  })

  test('a value of ten thousand letters is not looked at, and is not echoed in full', () => {
    const { dropped } = read(`toy.rig=${'x'.repeat(10_000)}`)
    expect(dropped[0]).toContain('too long')
    expect(dropped[0]?.length).toBeLessThan(80)
  })
})

describe('an address to send', () => {
  const sent = (address: string) => addressToSend(address, 'walk')

  test('opens at its figure', () => {
    expect(anchorOf('walk')).toBe('figure-walk')
    expect(sent('/lessons/walk-round-the-back/')).toBe('/lessons/walk-round-the-back/#figure-walk')
    expect(sent('/?walk.v=1&walk.angleDeg=90#answer')).toBe('/?walk.v=1&walk.angleDeg=90#figure-walk')
  })

  test('leaves the sender’s guesses out, and other figures and the air in', () => {
    expect(sent('/x/?guess.v=1&guess.shown=true&walk.v=1&walk.angleDeg=90&guess-hall.bareDb=-20&air=12,80')).toBe(
      '/x/?walk.v=1&walk.angleDeg=90&air=12%2C80#figure-walk',
    )
  })
})

describe('what is enclosed with an address', () => {
  const address = withEnclosed('/?walk.v=1#figure-walk', '1.AB-_')
  const hashOf = (text: string) => new URL(text, 'http://localhost').hash

  test('stands behind #, beside the figure that it opens at', () => {
    expect(address).toBe('/?walk.v=1#figure-walk&with=1.AB-_')
    expect([anchorIn(hashOf(address)), enclosedIn(hashOf(address))]).toEqual(['figure-walk', '1.AB-_'])
    const atPage = hashOf(withEnclosed('/answers/x/', '1.AB'))
    expect([anchorIn(atPage), enclosedIn(atPage)]).toEqual(['', '1.AB'])
    expect(withEnclosed('/x/#figure-walk', '')).toBe('/x/#figure-walk')
  })

  test('other addresses have nothing enclosed', () => {
    for (const hash of ['', '#', '#figure-walk', '#without=1', '#1.AB&wit=h']) expect(enclosedIn(hash), hash).toBe('')
    expect(anchorIn('#figure-walk')).toBe('figure-walk')
  })

  test('does not go on with the next link', () => {
    expect(addressToSend('/?walk.v=1#figure-walk&with=1.AB', 'walk')).toBe('/?walk.v=1#figure-walk')
    expect(addressToSend('/?walk.v=1#with=1.AB')).toBe('/?walk.v=1')
  })
})
