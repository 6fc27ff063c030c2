import { deflateSync, strToU8 } from 'fflate'
import { describe, expect, test } from 'vitest'
import { seededRandom } from '../../../src/acoustics/signals/seeded-random.ts'
import { enclosedIn } from '../../../src/state/enclosed-text.ts'
import { type Enclosure, readEnclosure, writeEnclosure } from '../../../src/state/enclosure.ts'
import { linkToSend, longestLink } from '../../../src/state/link-to-send.ts'
import * as edits from '../../../src/state/plan-edits.ts'
import { planFaults } from '../../../src/state/plan-faults.ts'
import { readPlan } from '../../../src/state/plan-file.ts'
import { mostCabinets, type Plan, type PlanKnown } from '../../../src/state/plan-schema.ts'
import { hallOfPlan } from '../../../src/state/saved-halls.ts'
import { noWords } from '../../../src/state/sender.ts'
import { withoutEnclosed } from '../../../src/state/without-enclosed.ts'
import { longestQr, qrPath } from '../../../src/widgets/send/qr-path.ts'
import { boxesOf, known, randomEdits, smallPlan } from './plan-samples.ts'

const from = { name: 'Deck crew', reach: 'deck@tidewater.example', note: 'Load in at four.' }
const send = (plan: Plan, words = noWords) =>
  linkToSend(
    { address: '/plan/', origin: 'https://round-the-back.example' },
    'plan',
    words,
    { rigs: [], halls: [] },
    plan,
  )
/** A plan out of a link, as the page reads it. */
const opened = (text: string, among: PlanKnown = known) => {
  const read = readEnclosure(text)
  return typeof read === 'string' ? read : readPlan(JSON.stringify(read.plan), among)
}
const inLink = (plan: Plan) => writeEnclosure({ from: noWords, rigs: [], plan })

describe('a plan in a link', () => {
  test('comes out as it went in: random plans, as long as they are sound', () => {
    let sound = 0
    for (const seed of [11, 12, 13, 14, 15, 16]) {
      let plan = smallPlan
      for (const edit of randomEdits(seed, 60)) {
        plan = edit(plan)
        const read = opened(inLink(plan))
        if (planFaults(plan, known).length > 0) expect(typeof read).toBe('string')
        else {
          sound += 1
          expect(read).toEqual(plan)
        }
      }
    }
    expect(sound).toBeGreaterThan(60)
  })

  test('words of every kind come out as they went in, once they stand in a plan', () => {
    const words = ['Saal „Grün“ 🔊', 'צוות הבמה', 'a  b\tc', '\u202eturned', '<b>&amp;', "it's “late”", 'x'.repeat(60)]
    for (const name of words) {
      const plan = readPlan(JSON.stringify({ ...smallPlan, name, crew: name, note: name.repeat(4) }), known) as Plan
      expect(typeof plan, name).toBe('object')
      expect(opened(inLink(plan))).toEqual(plan)
    }
  })

  test('the longest note stays whole, and own boxes bring their design to a device that has none', () => {
    const note = 'Mind the step. '.repeat(40).slice(0, 400)
    const { frontCentre: _, ...box } = boxesOf('column-on-base')['column-on-base/base'] as never as {
      frontCentre: unknown
    }
    const own = { ...box, key: 'own-x/base', name: 'My box: base' } as unknown as Plan['ownBoxes'][number]
    const like = smallPlan.cabinets[0] as Plan['cabinets'][number]
    const plan = edits.addCabinet({ ...smallPlan, note }, { ...like, xM: 2, box: own.key }, own)
    expect(opened(inLink(plan))).toEqual(plan)
  })

  test('the plan that the page begins with fits a QR code, with the sender’s words it fits a link', () => {
    const plan: Plan = { ...smallPlan, cabinets: [...smallPlan.cabinets, ...fourMore(smallPlan)] }
    const { link, hasPlan } = send(plan)
    expect(hasPlan).toBe(true)
    expect(link).toMatch(/^https:\/\/round-the-back\.example\/plan\/#figure-plan&with=2\.[\w-]+$/)
    expect(link.length).toBeLessThan(longestQr)
    expect(qrPath(link).modules).toBeLessThan(110)
    expect(send(plan, from).link.length).toBeLessThan(longestLink)
    expect(readEnclosure(enclosedIn(new URL(send(plan, from).link).hash))).toEqual({ from, rigs: [], plan })
  })

  test('one that is too long for a link stays out and is to go as a file', () => {
    const random = seededRandom(5)
    const like = smallPlan.cabinets[0] as Plan['cabinets'][number]
    const many = Array.from({ length: mostCabinets }, (_, i) => ({
      ...like,
      id: `c${i + 1}`,
      xM: random(),
      zM: random(),
      delayMs: random(),
      yawDeg: random(),
      levelDb: random(),
    }))
    const { link, hasPlan, leftOut } = send({ ...smallPlan, cabinets: many }, from)
    expect([hasPlan, leftOut.plan]).toEqual([false, true])
    expect(link.length).toBeLessThan(longestLink)
    expect((readEnclosure(enclosedIn(new URL(link).hash)) as Enclosure).from).toEqual(from)
  })

  test('a link that was written once is read for ever', () => {
    const { plan, halls } = readEnclosure(kept) as Enclosure
    expect(plan).toEqual(smallPlan)
    expect(halls).toEqual([{ name: 'Barn', hall: hallOfPlan(smallPlan) }])
  })
})

describe('links that are not right', () => {
  const good = inLink(smallPlan)
  /** What somebody would write who knows the form: any value, with the right sum. */
  const forged = (plan: unknown) => {
    const bytes = deflateSync(strToU8(JSON.stringify({ plan })))
    const sum = bytes.reduce((hash, byte) => Math.imul(hash ^ byte, 0x01000193), 0x811c9dc5) >>> 0
    const all = [sum >>> 24, (sum >> 16) & 255, (sum >> 8) & 255, sum & 255, ...bytes]
    return `2.${Buffer.from(all).toString('base64url')}`
  }

  test('cut short, changed, shuffled or made of noise: a sentence, never a throw, never another plan', () => {
    const random = seededRandom(21)
    for (let round = 0; round < 1500; round++) {
      const letters = [...good]
      const at = () => 2 + Math.floor(random() * (letters.length - 2))
      if (round % 3 === 0) letters.length = at()
      else if (round % 3 === 1) letters[at()] = 'ABCxyz-_'[Math.floor(random() * 8)] ?? 'A'
      else letters.splice(at(), 0, ...letters.splice(at(), 5))
      const read = opened(letters.join(''))
      if (letters.join('') === good) expect(read).toEqual(smallPlan)
      else expect(typeof read, letters.join('')).toBe('string')
    }
    for (let round = 0; round < 300; round++) {
      const noise = Buffer.from(Array.from({ length: 200 }, () => Math.floor(random() * 256))).toString('base64url')
      expect(typeof opened(`2.${noise}`)).toBe('string')
    }
  })

  test('values that somebody made up are told in words', () => {
    const first = smallPlan.cabinets[0]
    const made: [unknown, RegExp][] = [
      [[], /no version/],
      [null, /no version/],
      ['plan', /no version/],
      [{ version: 1, rigs: [] }, /another kind/],
      [{ ...smallPlan, version: 7 }, /newer version/],
      [{ ...smallPlan, version: 0 }, /no version/],
      [{ ...smallPlan, cabinets: Array.from({ length: 1000 }, () => first) }, /1,?000 boxes in it; 24 are the most/],
      [{ ...smallPlan, ground: { ...smallPlan.ground, lengthM: 0 } }, /no volume/],
      [edits.movePlace(smallPlan, 'p2', { xM: -2.5, zM: 2.9 }), /would be inside box 1/],
      [edits.moveCabinet(smallPlan, 'c1', { xM: 5.4, zM: 3 }), /would stand outside the hall/],
      [{ ...smallPlan, name: '\u202e\u200b' }, /name/],
      [{ ...smallPlan, extra: 1 }, /extra/],
    ]
    for (const [plan, words] of made) expect(opened(forged(plan)), JSON.stringify(plan).slice(0, 80)).toMatch(words)
  })

  test('the part of the address goes, the rest of it stays', () => {
    for (const [whole, rest] of [
      ['https://x.example/plan/#figure-plan&with=2.abc', 'https://x.example/plan/#figure-plan'],
      ['https://x.example/plan/#with=2.abc', 'https://x.example/plan/'],
      ['https://x.example/plan/?a=1#with=2.abc', 'https://x.example/plan/?a=1'],
      ['https://x.example/plan/', 'https://x.example/plan/'],
    ] as const)
      expect(withoutEnclosed(whole)).toBe(rest)
  })
})

/** Four more boxes as a crew would place them. */
function fourMore({ cabinets }: Plan): Plan['cabinets'] {
  const [top, sub] = cabinets as [Plan['cabinets'][number], Plan['cabinets'][number]]
  return [
    { ...top, id: 'c3', xM: 2.5, group: 'right' },
    { ...sub, id: 'c4', xM: 2.5, group: 'right' },
    { ...sub, id: 'c5', xM: -2.5, zM: 2.05, inverted: true, delayMs: 2.77, group: '' },
    { ...sub, id: 'c6', xM: 2.5, zM: 2.05, inverted: true, delayMs: 2.77, group: '' },
  ]
}

/** Written by the second form when it was new. */
const kept =
  '2.a_9rKKvGbGsCcy7IpzjbmwPbOkASp3W7AJycSGoaYxbT0FayBVIaCwGVxCCHoBfFpuAoAZuLqwXnqAAN_SHQjqN3TKG04KDhDqzUEF4GBjS88YbRdMPbWsPRQMHeUKO0gQJqFmBtreFomWBzBRVaJmS0SWCJnVCLBHcOQG6MDILWAUo_Dl_rANgGQm0M1AIA'
