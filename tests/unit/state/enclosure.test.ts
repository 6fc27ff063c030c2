import { readFileSync } from 'node:fs'
import { join } from 'node:path'
import { deflateSync, strToU8 } from 'fflate'
import { describe, expect, test } from 'vitest'
import type { Rig } from '../../../src/acoustics/index.ts'
import { seededRandom } from '../../../src/acoustics/signals/seeded-random.ts'
import { type Enclosure, readEnclosure, writeEnclosure } from '../../../src/state/enclosure.ts'
import { longestWords, noWords } from '../../../src/state/sender.ts'

const gear = (name: string): Rig => {
  const { cabinets } = JSON.parse(readFileSync(join(import.meta.dirname, `../../../content/gear/${name}.json`), 'utf8'))
  return { name, cabinets }
}
const from = { name: 'צוות הבמה 🔊', reach: '+1 555 010 0000', note: '<img src=x onerror=alert(1)> & "quotes"' }
const letter: Enclosure = { from, rigs: [{ name: 'My big rig', rig: gear('top-over-sub') }] }

/** A text with a right check sum over whatever bytes. */
const signed = (bytes: Uint8Array, version = 1) => {
  const sum = bytes.reduce((hash, byte) => Math.imul(hash ^ byte, 0x01000193), 0x811c9dc5) >>> 0
  return `${version}.${Buffer.from([sum >>> 24, (sum >> 16) & 255, (sum >> 8) & 255, sum & 255, ...bytes]).toString('base64url')}`
}
/** What somebody would write who knows the form: any value, deflated, with the right sum. */
const forged = (value: unknown) => readEnclosure(signed(deflateSync(strToU8(JSON.stringify(value)))))

describe('what is enclosed with a link', () => {
  test('comes out as it went in', () => {
    expect(readEnclosure(writeEnclosure(letter))).toEqual(letter)
    expect(readEnclosure(writeEnclosure({ from, rigs: [] }))).toEqual({ from, rigs: [] })
    expect(readEnclosure(writeEnclosure({ ...letter, from: noWords }))).toEqual({ ...letter, from: noWords })
    expect(writeEnclosure({ from: noWords, rigs: [] })).toBe('')
  })

  test('a rig of two cabinets takes less than 330 characters that no address has to escape', () => {
    for (const name of ['top-over-sub', 'column-on-base', 'compact-two-way']) {
      const text = writeEnclosure({ from: noWords, rigs: [{ name: 'My rig', rig: gear(name) }] })
      expect(text).toMatch(/^1\.[\w-]+$/)
      expect(text.length, name).toBeLessThan(330)
    }
  })

  test('a link that was written once is read for ever', () => {
    expect(readEnclosure(kept)).toEqual({
      from: { name: 'Deck crew', reach: 'deck@tidewater.example', note: 'Ask us.' },
      rigs: [{ name: 'My rig', rig: gear('compact-two-way') }],
    })
  })

  test('what a chat program puts behind it does not count', () => {
    for (const tail of [')', '.', '>', ' and more'])
      expect(readEnclosure(`${writeEnclosure(letter)}${tail}`)).toEqual(letter)
  })

  test('cut short at any place, or with any one character changed, it says so', () => {
    const text = writeEnclosure(letter)
    for (let length = 0; length < text.length; length++)
      expect(typeof readEnclosure(text.slice(0, length)), String(length)).toBe('string')
    for (let place = 2; place < text.length; place++) {
      const other = text[place] === 'A' ? 'B' : 'A'
      expect(readEnclosure(text.slice(0, place) + other + text.slice(place + 1)), String(place)).toMatch(
        /lost or changed/,
      )
    }
  })

  test('a newer version, no version and a text of a million letters are told apart', () => {
    expect(readEnclosure(signed(Uint8Array.of(1, 2), 3))).toMatch(/newer version/)
    for (const text of ['', 'x', '1', '0.AAAAAAAA', 'javascript:alert(1)']) expect(readEnclosure(text)).toMatch(/form/)
    expect(readEnclosure(`1.${'A'.repeat(1_000_000)}`)).toMatch(/longer than 8000/)
  })

  test('what unfolds to more than is allowed is not unfolded', () => {
    const bomb = deflateSync(new Uint8Array(3_000_000).fill(0x20), { level: 9 })
    expect(bomb.length).toBeLessThan(5000)
    expect(readEnclosure(signed(bomb))).toMatch(/holds nothing/)
  })

  test('written by hand with a right check sum, it passes the schema of saved rigs or nothing of it is used', () => {
    const [rig] = letter.rigs
    for (const value of [null, 7, 'x', { other: 1 }, { from: 'x' }, { from: { name: 'a', reach: 'b', note: 3 } }])
      expect(typeof forged(value), JSON.stringify(value)).toBe('string')
    const spoilt = structuredClone(rig) as NonNullable<typeof rig>
    ;(spoilt.rig.cabinets[0] as { widthM: number }).widthM = -1
    expect(forged({ rigs: [spoilt] })).toMatch(/cannot be built: .*widthM/)
    expect(typeof forged({ rigs: Array.from({ length: 5 }, () => rig) })).toBe('string')
    expect(typeof forged({ rigs: [{ ...rig, name: '' }] })).toBe('string')
    expect(typeof forged({ rigs: [{ ...rig, name: 'x'.repeat(61) }] })).toBe('string')
    expect(forged({ from: { name: '', reach: '', note: '' } })).toEqual({ from: noWords, rigs: [] })
    // A key that means something to the language means nothing here.
    const named = forged(JSON.parse('{"__proto__":{"from":{}},"from":{"name":"a","reach":"","note":""}}'))
    expect(typeof named === 'string' || Object.getPrototypeOf(named) === Object.prototype).toBe(true)
  })

  test('words that are too long or turn the direction are cut and cleaned, names of rigs too', () => {
    const read = forged({
      from: { name: 'n'.repeat(5000), reach: 'a\u202eb', note: 'x\n\u2066y' },
      rigs: [{ ...letter.rigs[0], name: 'rig\u202e' }],
    }) as Enclosure
    expect(read.from.name).toHaveLength(longestWords.name)
    expect([read.from.reach, read.from.note, read.rigs[0]?.name]).toEqual(['ab', 'x y', 'rig'])
  })

  test('5,000 random texts and 5,000 damaged ones never throw, and give words or something whole', () => {
    const random = seededRandom(15)
    const text = writeEnclosure(letter)
    const signs = 'ABCxyz019-_.%&=#\u202e🔊 '
    for (let round = 0; round < 10_000; round++) {
      const pieces = [...text].map((sign) => (random() < 0.02 ? signs[Math.floor(random() * signs.length)] : sign))
      const bytes = Uint8Array.from({ length: Math.floor(random() * 200) }, () => 256 * random())
      const read = readEnclosure(round % 2 ? pieces.join('') : signed(bytes))
      if (typeof read === 'string') expect(read).not.toBe('')
      else expect(Object.keys(read)).toEqual(['from', 'rigs'])
    }
  })
})

/** Written on 2026-11-29 by version 1. */
const kept =
  '1.-o4Oc8NItC6pydkKyUWpoMiGpd4UoJhDSWZKanki0HS91IrE3IKcVESSdizOVigt1sOWsn0rFUApGz19J-fnFiQml-iWlOfrAhMajuQOVYWU7BAiiFRvBAwfpHRvYoSc8o3Anicq7aMn-PL8_DRg8CEst9DNzEvOUICLE5kBDCyM0fOAIcVxaGYKdDGFGcbICJQQkBI_JInDvGtpcGiDwuHpCmYgGipHdMYARgJ6zjAEitE6b-APWdICBppDAA'
