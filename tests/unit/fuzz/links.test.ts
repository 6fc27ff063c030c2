// 10,000 spoilt links for every figure. The list is complete by construction: every file of a link is opened and every schema in it is taken.
import { readFileSync } from 'node:fs'
import { describe, expect, test } from 'vitest'
import { defaultState, type LinkSchema, readLink, writeLink } from '../../../src/state/share-link.ts'
import { designOfCabinet } from '../../../src/widgets/own-box/box-design.ts'
import { badNumbers, Spoiler } from './spoil.ts'

type State = Record<string, unknown>

const count = 10_000
const modules = import.meta.glob<Record<string, unknown>>('../../../src/widgets/*/*-link.ts', { eager: true })
const [top] = JSON.parse(readFileSync('content/gear/top-over-sub.json', 'utf8')).cabinets
const rigs = ['top-over-sub', 'column-on-base', 'compact-two-way', 'own-my-box']
/** What a figure's link hangs on, where that is not the list of rigs. */
const given: Record<string, unknown> = { ownBoxLink: designOfCabinet(top) }

const isLink = (value: unknown): value is LinkSchema<State> =>
  typeof value === 'object' && value !== null && 'name' in value && 'version' in value && 'fields' in value

const links = Object.entries(modules).map(([file, exports]) => ({
  file: file.replace(/.*\/widgets\//, ''),
  schemas: Object.entries(exports)
    .filter(([name]) => name.endsWith('Link'))
    .map(([name, value]) => (typeof value === 'function' ? value(given[name] ?? rigs) : value))
    .filter(isLink),
}))

/** An address's query: some fields with their own values, some spoilt, some of nobody. */
function query(spoiler: Spoiler, { name, fields }: LinkSchema<State>): string {
  const names = [...Object.keys(fields), 'v', spoiler.nastyText()]
  const parts = Array.from({ length: 1 + spoiler.whole(5) }, () => {
    const field = spoiler.one(names)
    const usual = String(fields[field]?.default ?? '1')
    const random = spoiler.random()
    const value =
      random < 0.2
        ? usual
        : random < 0.4
          ? spoiler.nastyText()
          : random < 0.6
            ? String(Math.round(1e4 * (spoiler.random() - 0.5)) / spoiler.one([1, 10, 100, 1000]))
            : spoiler.text(usual)
    return `${name}.${field}=${random < 0.5 ? encodeURIComponent(value.toWellFormed()) : value}`
  })
  const whole = parts.join('&')
  return spoiler.random() < 0.1 ? spoiler.text(whole) : whole
}

describe('a spoilt link', () => {
  test('every file of a link gives its schemas, each under a name of its own', () => {
    expect(links.length).toBeGreaterThan(20)
    expect(links.filter(({ schemas }) => schemas.length === 0).map(({ file }) => file)).toEqual([])
    const names = links.flatMap(({ schemas }) => schemas.map(({ name }) => name))
    expect(new Set(names).size).toBe(names.length)
  })

  for (const { file, schemas } of links)
    test(`${file}: gives a whole state that can be sent on, and says in short what it left out`, () => {
      for (const link of schemas) {
        const spoiler = new Spoiler(2026)
        const usual = defaultState(link)
        const names = Object.keys(usual).sort()
        let [used, dropped] = [0, 0]
        for (let round = 0; round < count; round++) {
          const text = query(spoiler, link)
          const reading = readLink(link, new URLSearchParams(text))
          const wrong = [
            ...(String(Object.keys(reading.state).sort()) === String(names) ? [] : ['other fields']),
            ...badNumbers(reading.state),
            ...reading.dropped.filter((line) => line === '' || line.length > 400),
          ]
          const again = readLink(link, writeLink(link, reading.state, new URLSearchParams()))
          if (JSON.stringify(again.state) !== JSON.stringify(reading.state) || again.dropped.length > 0)
            wrong.push(`read again: ${JSON.stringify(again)}`)
          if (wrong.length > 0) expect.fail(`${text}\n${wrong.join('\n')}\n${JSON.stringify(reading.state)}`)
          used += reading.set.length
          dropped += reading.dropped.length
        }
        // Else the attack would not reach what it is for.
        expect(used).toBeGreaterThan(count / 10)
        expect(dropped).toBeGreaterThan(count / 10)
      }
      expect(Object.keys(Object.prototype)).toEqual([])
    })
})
