import { readdirSync, readFileSync } from 'node:fs'
import { describe, expect, test } from 'vitest'
import { addressToSend } from '../../../src/state/link-to-send.ts'
import { type LinkSchema, readLink, writeLink } from '../../../src/state/share-link.ts'
import { blindLink } from '../../../src/widgets/blind-comparison/blind-comparison-link.ts'
import { boxAndWaveLink } from '../../../src/widgets/box-and-wave/box-and-wave-link.ts'
import { columnLink } from '../../../src/widgets/column/column-link.ts'
import { guessColumnLink } from '../../../src/widgets/column/guess-column-link.ts'
import { equalLoudnessLink } from '../../../src/widgets/equal-loudness/equal-loudness-link.ts'
import { matchByEarLink } from '../../../src/widgets/equal-loudness/match-by-ear-link.ts'
import { guessDelayLink } from '../../../src/widgets/guess-delay/guess-delay-link.ts'
import { guessDipLink } from '../../../src/widgets/guess-dip/guess-dip-link.ts'
import { guessHallLink } from '../../../src/widgets/guess-hall/guess-hall-link.ts'
import { guessLoudnessLink } from '../../../src/widgets/guess-loudness/guess-loudness-link.ts'
import { guessRearLink } from '../../../src/widgets/guess-rear/guess-rear-link.ts'
import { guessShadowLink } from '../../../src/widgets/guess-shadow/guess-shadow-link.ts'
import { hallPartsLink } from '../../../src/widgets/hall-parts/hall-parts-link.ts'
import { guessHornLink } from '../../../src/widgets/horn/guess-horn-link.ts'
import { hornLink } from '../../../src/widgets/horn/horn-link.ts'
import { loudnessStackLink } from '../../../src/widgets/loudness-stack/loudness-stack-link.ts'
import { type BoxDesign, designOfCabinet } from '../../../src/widgets/own-box/box-design.ts'
import { ownBoxLink } from '../../../src/widgets/own-box/own-box-link.ts'
import { steerBassLink } from '../../../src/widgets/steer-bass/steer-bass-link.ts'
import { walkRoundLink } from '../../../src/widgets/walk-round/walk-round-link.ts'
import { wallDistanceLink } from '../../../src/widgets/wall-distance/wall-distance-link.ts'

type State = Record<string, unknown>
/** Recorded from the site before its figures were rebuilt: what a link gave where it differs from the defaults. */
type Read = { state: State; leftOut: string[] }
type OldLinks = { defaults: Record<string, State>; links: { link: string; read: Record<string, Read> }[] }

const { defaults, links }: OldLinks = JSON.parse(readFileSync('tests/browser/old-links.json', 'utf8'))

const rigs = ['top-over-sub', 'column-on-base', 'compact-two-way']
const [top] = JSON.parse(readFileSync('content/gear/top-over-sub.json', 'utf8')).cabinets
const schemas = [
  blindLink(rigs),
  boxAndWaveLink,
  columnLink,
  equalLoudnessLink,
  guessColumnLink,
  guessDelayLink,
  guessDipLink,
  guessHallLink,
  guessHornLink,
  guessLoudnessLink,
  guessRearLink,
  guessShadowLink,
  hallPartsLink(rigs),
  hornLink,
  loudnessStackLink(rigs),
  matchByEarLink,
  ownBoxLink(designOfCabinet(top) as BoxDesign),
  steerBassLink(rigs),
  walkRoundLink(rigs),
  wallDistanceLink(rigs),
] as unknown as LinkSchema<State>[]

const read = links.flatMap(({ link, read }) =>
  Object.entries(read).map(([name, expected]) => {
    const schema = schemas.find((known) => known.name === name)
    if (!schema) throw new Error(`no schema called ${name}`)
    return { name, link, schema, expected, params: new URL(link, 'http://localhost').searchParams }
  }),
)

describe('links written before the figures were rebuilt', () => {
  test('every schema of the site has links in the table', () => {
    const files = readdirSync('src/widgets', { recursive: true, encoding: 'utf8' })
    const younger = [
      'compare/compare-link.ts',
      'find-fault/find-fault-link.ts',
      'van-card/van-card-link.ts',
      'phone-walk/walk-link.ts',
      'plan/plan-link.ts',
      'guess-slips/guess-slips-link.ts',
      'guess-set-up/guess-set-up-link.ts',
      'decide/decide-link.ts',
      'solve-hall/solve-hall-link.ts',
    ]
    expect(files.filter((name) => name.endsWith('-link.ts') && !younger.includes(name))).toHaveLength(schemas.length)
    expect([...new Set(read.map(({ name }) => name))].sort()).toEqual(schemas.map(({ name }) => name).sort())
    expect(links).toHaveLength(40)
  })

  test('guesses are named so, and nothing else is: links that are sent leave them out by their name', () => {
    const guesses = schemas.filter(({ fields }) => 'shown' in fields).map(({ name }) => name)
    expect(guesses).toHaveLength(8)
    const sent = schemas.filter(({ name }) => addressToSend(`/?${name}.v=1`, name).includes('?'))
    expect(sent.map(({ name }) => name).sort()).toEqual(
      schemas
        .map(({ name }) => name)
        .filter((name) => !guesses.includes(name))
        .sort(),
    )
  })

  test.each(schemas)('$name: a link that sets nothing gives what it gave', (schema) => {
    const { state } = readLink(schema, new URLSearchParams({ [`${schema.name}.v`]: '1' }))
    expect(state).toMatchObject(defaults[schema.name] ?? {})
  })

  test.each(read)('$name: $link', ({ name, schema, expected, params }) => {
    const { state, dropped } = readLink(schema, params)
    expect(state).toMatchObject({ ...defaults[name], ...expected.state })
    expect(dropped).toEqual(expected.leftOut)
  })

  test.each(read)('$name: what is written for $link reads the same again', ({ name, schema, params }) => {
    const { state } = readLink(schema, params)
    const written = writeLink(schema, state, params)
    const again = readLink(schema, new URLSearchParams(written.toString()))
    expect(again).toMatchObject({ state, dropped: [] })
    // Other figures' parts stay as they were.
    const others = (all: URLSearchParams) => [...all].filter(([key]) => !key.startsWith(`${name}.`))
    expect(others(written)).toEqual(others(params))
  })
})
