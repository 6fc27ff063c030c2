import { readFileSync } from 'node:fs'
import { join } from 'node:path'
import { describe, expect, test } from 'vitest'
import type { Rig } from '../../../src/acoustics/index.ts'
import { seededRandom } from '../../../src/acoustics/signals/seeded-random.ts'
import { enclosedIn } from '../../../src/state/enclosed-text.ts'
import { type Enclosure, readEnclosure } from '../../../src/state/enclosure.ts'
import {
  anchorIn,
  linkToSend,
  longestLink,
  type OwnThings,
  sentHalls,
  sentRigs,
} from '../../../src/state/link-to-send.ts'
import type { OwnHall } from '../../../src/state/saved-halls.ts'
import { noWords } from '../../../src/state/sender.ts'

const { cabinets } = JSON.parse(
  readFileSync(join(import.meta.dirname, '../../../content/gear/compact-two-way.json'), 'utf8'),
) as Rig
const rigOf = (key: string) => ({ key, name: `rig ${key}`, rig: { name: key, cabinets } })
const rigs = [rigOf('own-a'), rigOf('own-b'), rigOf('sent-1')]
const hall: OwnHall = {
  ground: { kind: 'outdoors', lengthM: 20, widthM: 12, ground: 'grass' },
  rigAt: { xM: 0, zM: 4 },
  places: [{ name: 'Lawn', xM: 0, zM: 12 }],
}
const halls = [
  { key: 'own-a', name: 'Orchard', hall },
  { key: 'own-c', name: 'Yard', hall: { ...hall, rigAt: { xM: 1, zM: 3 } } },
]
const known = { rigs, halls }
const origin = 'https://round-the-back.example'
const send = (address: string, name?: string, from = noWords, own: OwnThings = known, plan?: unknown) =>
  linkToSend({ address, origin }, name, from, own, plan)
const parts = (link: string) => {
  const { searchParams, hash } = new URL(link)
  return { params: Object.fromEntries(searchParams), anchor: anchorIn(hash), enclosed: enclosedIn(hash) }
}

describe('a link to send', () => {
  test('with nothing to travel along it is the address alone', () => {
    expect(send('/?walk.v=1&walk.rig=column-on-base&guess.v=1', 'walk').link).toBe(
      `${origin}/?walk.v=1&walk.rig=column-on-base#figure-walk`,
    )
    expect(send('/answers/x/').link).toBe(`${origin}/answers/x/`)
  })

  test('a rig of the sender’s own travels along, once, under a name that the other device knows', () => {
    const { link, rigs } = send('/?walk.v=1&walk.rig=own-b&wall.rig=own-b&hall.rig=own-a', 'walk')
    const { params, anchor, enclosed } = parts(link)
    expect(params).toEqual({ 'walk.v': '1', 'walk.rig': 'sent-1', 'wall.rig': 'sent-1', 'hall.rig': 'sent-2' })
    expect(anchor).toBe('figure-walk')
    expect(rigs.map(({ name }) => name)).toEqual(['rig own-b', 'rig own-a'])
    expect(sentRigs(enclosed)).toEqual([
      { ...rigOf('own-b'), key: 'sent-1' },
      { ...rigOf('own-a'), key: 'sent-2' },
    ])
  })

  test('a rig that came with a link goes on with the next one; what another sender wrote does not', () => {
    const { link } = send('/?walk.rig=sent-1#figure-walk&with=1.whatever', 'walk')
    const read = readEnclosure(parts(link).enclosed) as Enclosure
    expect(read.rigs.map(({ name }) => name)).toEqual(['rig sent-1'])
    expect(read.from).toEqual(noWords)
  })

  test('only what is called a rig is one', () => {
    expect(parts(send('/?walk.note=own-a&walk.rig=own-gone').link).params).toEqual({
      'walk.note': 'own-a',
      'walk.rig': 'own-gone',
    })
  })

  test('a hall of the sender’s own travels along, whichever field names it; a rig of the same key is another thing', () => {
    const { link, halls: sent } = send('/?walk.rig=own-a&walk.hall=own-c&hall.hall=own-a&hall.other=own-c', 'walk')
    const { params, enclosed } = parts(link)
    expect(params).toEqual({
      'walk.rig': 'sent-1',
      'walk.hall': 'sent-1',
      'hall.hall': 'sent-2',
      'hall.other': 'sent-1',
    })
    expect(sent.map(({ name }) => name)).toEqual(['Yard', 'Orchard'])
    expect(sentHalls(enclosed)).toEqual([
      { ...halls[1], key: 'sent-1' },
      { ...halls[0], key: 'sent-2' },
    ])
    expect(sentRigs(enclosed).map(({ name }) => name)).toEqual(['rig own-a'])
    expect(link.length).toBeLessThan(longestLink / 2)
  })

  test('a plan travels along; one that makes the link too long stays out, and the rest goes', () => {
    const { link, hasPlan } = send('/plan/', 'plan', noWords, known, { version: 1, name: 'Tonight' })
    expect(hasPlan).toBe(true)
    expect(readEnclosure(parts(link).enclosed)).toEqual({
      from: noWords,
      rigs: [],
      plan: { version: 1, name: 'Tonight' },
    })
    const random = seededRandom(3)
    const long = send('/plan/?walk.hall=own-c', 'plan', noWords, known, Array.from({ length: 400 }, random))
    expect([long.hasPlan, long.leftOut.plan, long.halls.length]).toEqual([false, true, 1])
    expect(long.link.length).toBeLessThan(longestLink)
  })

  test('the sender’s words travel, to a figure or to the page', () => {
    const from = { name: 'Deck crew', reach: '', note: 'Hello' }
    for (const name of ['walk', undefined]) {
      const { anchor, enclosed } = parts(send('/?walk.v=1', name, from).link)
      expect(anchor).toBe(name ? 'figure-walk' : '')
      expect(readEnclosure(enclosed)).toEqual({ from, rigs: [] })
    }
  })

  test('a rig that makes the link longer than stated stays out and is handed back for a file', () => {
    const random = seededRandom(7)
    const many = Array.from({ length: 32 }, () => ({
      ...(cabinets[0] as Rig['cabinets'][number]),
      name: `cabinet ${random()}`,
      label: `label ${random()}`,
      frontCentre: { xM: random(), yM: 1 + random(), zM: random() },
      depthM: 0.3 + random() / 10,
    }))
    const big = { key: 'own-big', name: 'Wall of boxes', rig: { name: 'big', cabinets: many } }
    const { link, rigs, leftOut } = send('/?walk.v=1&walk.rig=own-big&walk.angleDeg=90', 'walk', noWords, {
      rigs: [big],
      halls: [],
    })
    expect(link).toBe(`${origin}/?walk.v=1&walk.angleDeg=90#figure-walk`)
    expect([rigs.length, leftOut.rigs[0]?.name]).toEqual([0, 'Wall of boxes'])
    expect(send('/?walk.rig=own-a', 'walk').link.length).toBeLessThan(longestLink / 3)
  })
})
