import { afterEach, beforeEach, describe, expect, test } from 'vitest'
import {
  changeWalks,
  type KeptWalk,
  keptWalks,
  mostWalks,
  readWalks,
  roundedPlace,
  walksKey,
  withWalks,
  writeWalks,
} from '../../../../src/widgets/phone-walk/kept-walks.ts'
import { aWalk, heardAt } from './walk-fixture.ts'

describe('a file of walks', () => {
  test('written and read back is the same', () => {
    const walks = [aWalk('b', '2026-05-02T18:00:00.000Z'), aWalk('a')]
    expect(readWalks(writeWalks(walks))).toEqual(walks)
  })

  test.each([
    ['no JSON', 'place,frequencyHz', 'no JSON'],
    ['something else', '{"rigs":[]}', 'which version'],
    ['a newer page’s', '{"version":2,"walks":[]}', 'newer version'],
    ['without walks', '{"version":1}', 'no walk in it'],
    ['empty', '{"version":1,"walks":[]}', 'no walk in it'],
    ['too long', ' '.repeat(12_000_001), 'too long'],
  ])('that is %s is refused in words', (_, text, words) => {
    expect(readWalks(text)).toContain(words)
  })

  test.each<[string, (walk: KeptWalk) => unknown, string]>([
    ['a level that cannot be', (walk) => ({ ...walk, fronts: [{ ...heardAt(-30), keptS: 'long' }] }), 'keptS'],
    ['bands missing', (walk) => ({ ...walk, quiet: { ...heardAt(-80), levels: [] } }), 'levels'],
    ['no front', (walk) => ({ ...walk, fronts: [] }), 'fronts'],
    ['a place of a front that is not there', (walk) => ({ ...walk, fronts: [heardAt(-30)] }), 'front that is not'],
    ['no name', (walk) => ({ ...walk, name: ' ' }), 'name'],
    ['a day that is none', (walk) => ({ ...walk, begun: 'yesterday' }), 'begun'],
  ])('with %s is refused with its place', (_, spoil, words) => {
    const read = readWalks(JSON.stringify({ version: 1, walks: [aWalk(), spoil(aWalk('b'))] }))
    expect(read).toContain('Walk 2')
    expect(read).toContain(words)
  })

  test('adds what is new, the newest first, and leaves what is here', () => {
    const here = { ...aWalk('a'), name: 'mine' }
    const merged = withWalks([here], [aWalk('a'), aWalk('b', '2026-06-01T10:00:00.000Z')])
    expect(merged.map(({ key, name }) => [key, name])).toEqual([
      ['b', 'soundcheck'],
      ['a', 'mine'],
    ])
  })
})

test('levels are kept to a thousandth of a decibel', () => {
  const place = roundedPlace({
    ...heardAt(-30.123456),
    levels: [null, { levelDb: -30.123456, errorDb: 0.22222, freedom: 1 }],
  })
  expect(place.levels).toEqual([null, { levelDb: -30.123, errorDb: 0.2222, freedom: 1 }])
})

describe('what the device keeps', () => {
  const store = new Map<string, string>()
  let isFull = false
  beforeEach(() => {
    for (const key of store.keys()) if (!key.endsWith('.changes')) store.delete(key)
    isFull = false
    Object.assign(globalThis, {
      localStorage: {
        getItem: (key: string) => store.get(key) ?? null,
        setItem: (key: string, text: string) => {
          if (isFull) throw new Error('full')
          store.set(key, text)
        },
      },
    })
  })
  afterEach(() => {
    Reflect.deleteProperty(globalThis, 'localStorage')
  })
  const add = (walk: KeptWalk) => (before: KeptWalk[]) => [walk, ...before]

  test('two pages that each keep a walk lose neither', async () => {
    await Promise.all([changeWalks([], add(aWalk('a'))), changeWalks([], add(aWalk('b')))])
    expect(keptWalks().walks.map(({ key }) => key)).toEqual(['b', 'a'])
  })

  test('two pages that each change another part of one walk lose neither', async () => {
    const [walk] = (await changeWalks([], add(aWalk()))).walks
    const change = (part: Partial<KeptWalk>) => (before: KeptWalk[]) => before.map((each) => ({ ...each, ...part }))
    const shown = [walk as KeptWalk]
    await Promise.all([changeWalks(shown, change({ name: 'evening' })), changeWalks(shown, change({ frontM: 4 }))])
    expect(keptWalks().walks).toMatchObject([{ name: 'evening', frontM: 4 }])
  })

  test.each(['nonsense', '{"version":1}', '[]'])(
    '%s is told, set aside under a free name, and not lost',
    async (text) => {
      store.set(walksKey, text)
      store.set(`${walksKey}.unread.1`, 'older')
      expect(keptWalks().problem).toContain('cannot be read')
      const { walks, problem } = await changeWalks([], add(aWalk()))
      expect(problem).toBe('')
      expect(walks).toHaveLength(1)
      expect(store.get(`${walksKey}.unread.1`)).toBe('older')
      expect(store.get(`${walksKey}.unread.2`)).toBe(text)
    },
  )

  test('one walk that cannot be read is told, and stays beside the others', async () => {
    store.set(walksKey, JSON.stringify({ version: 1, walks: [aWalk(), { from: 'elsewhere' }] }))
    expect(keptWalks().walks).toHaveLength(1)
    expect(keptWalks().problem).toContain('One walk')
    await changeWalks([], add(aWalk('b')))
    expect(JSON.parse(store.get(walksKey) ?? '').walks).toMatchObject([
      { key: 'b' },
      { key: 'walk-1' },
      { from: 'elsewhere' },
    ])
  })

  test('walks of a newer page are left as they are, and what is marked now is shown', async () => {
    const newer = '{"version":7,"strolls":[]}'
    store.set(walksKey, newer)
    const first = await changeWalks([], add(aWalk()))
    expect(first.problem).toContain('newer version')
    const second = await changeWalks(first.walks, add(aWalk('b')))
    expect(second.walks).toHaveLength(2)
    expect(store.get(walksKey)).toBe(newer)
  })

  test('a device that is full says so; nothing that is shown is lost, and all of it is kept once there is room', async () => {
    await changeWalks([], add(aWalk('a')))
    isFull = true
    const first = await changeWalks(keptWalks().walks, add(aWalk('b')))
    expect(first.problem).toContain('keeps nothing')
    isFull = false
    const second = await changeWalks(first.walks, add(aWalk('c')), true)
    expect(second.problem).toBe('')
    expect(
      keptWalks()
        .walks.map(({ key }) => key)
        .sort(),
    ).toEqual(['a', 'b', 'c'])
  })

  test('more walks than can be held are refused, and those that are there stay', async () => {
    const walks = Array.from({ length: mostWalks }, (_, index) => aWalk(`walk-${index}`))
    await changeWalks([], () => walks)
    const { problem } = await changeWalks([], add(aWalk('one-more')))
    expect(problem).toContain(`${mostWalks} walks`)
    expect(keptWalks().walks).toEqual(walks)
  })
})
