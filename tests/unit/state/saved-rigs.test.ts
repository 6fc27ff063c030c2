import { readFileSync } from 'node:fs'
import { join } from 'node:path'
import { describe, expect, test } from 'vitest'
import type { Rig } from '../../../src/acoustics/index.ts'
import { savedRigsKey } from '../../../src/state/kept-list-change.ts'
import type { TextStore } from '../../../src/state/kept-text.ts'
import { exportRigs, importRigs, rigsFile, savedRigs } from '../../../src/state/saved-rigs.ts'

const gear = (name: string): Rig => {
  const { cabinets } = JSON.parse(readFileSync(join(import.meta.dirname, `../../../content/gear/${name}.json`), 'utf8'))
  return { name, cabinets }
}
const top = gear('top-over-sub')
const compact = gear('compact-two-way')

/** A store that can be made to refuse. */
class Shelf implements TextStore {
  texts = new Map<string, string>()
  room = Number.POSITIVE_INFINITY
  getItem(key: string) {
    return this.texts.get(key) ?? null
  }
  setItem(key: string, text: string) {
    if (text.length > this.room) throw new DOMException('full', 'QuotaExceededError')
    this.texts.set(key, text)
  }
}

describe('saved rigs', () => {
  test('what is saved is read back, under a key that never changes', async () => {
    const shelf = new Shelf()
    const { thing: rig, problem } = await savedRigs.save('  Our top, left  ', top, shelf)
    expect(problem).toBe('')
    expect(rig).toEqual({ key: 'own-our-top-left', name: 'Our top, left', rig: top })
    expect(savedRigs.read(shelf)).toEqual({ things: [rig], problems: [] })
    expect((await savedRigs.save('Our top, left', compact, shelf)).thing?.key).toBe('own-our-top-left')
    expect(savedRigs.read(shelf).things.map((saved) => saved.rig)).toEqual([compact])
  })

  test('names that give the same key are told apart', async () => {
    const shelf = new Shelf()
    const keys: (string | undefined)[] = []
    for (const name of ['Ångström', '音響', '!?', 'a b', 'A-B'])
      keys.push((await savedRigs.save(name, top, shelf)).thing?.key)
    expect(keys).toEqual(['own-ngstr-m', 'own-rig', 'own-rig-2', 'own-a-b', 'own-a-b-2'])
  })

  test('a name of nothing or of a page, and a rig that is not sound, are refused and change nothing', async () => {
    const shelf = new Shelf()
    await savedRigs.save('good', top, shelf)
    const before = shelf.getItem(savedRigsKey)
    expect((await savedRigs.save('   ', top, shelf)).problem).toContain('1 to 60 letters')
    expect((await savedRigs.save('x'.repeat(61), top, shelf)).problem).toContain('1 to 60 letters')
    const bad = structuredClone(top)
    ;(bad.cabinets[0] as Rig['cabinets'][number]).widthM = -1
    expect((await savedRigs.save('bad', bad, shelf)).problem).toContain('widthM is -1')
    expect(shelf.getItem(savedRigsKey)).toBe(before)
  })

  test('a full device keeps what it had', async () => {
    const shelf = new Shelf()
    await savedRigs.save('first', top, shelf)
    shelf.room = (shelf.getItem(savedRigsKey) ?? '').length
    expect((await savedRigs.save('second', compact, shelf)).problem).toContain('no room')
    expect(savedRigs.read(shelf).things.map(({ name }) => name)).toEqual(['first'])
  })

  test('deleting takes one and leaves the others', async () => {
    const shelf = new Shelf()
    await savedRigs.save('first', top, shelf)
    await savedRigs.save('second', compact, shelf)
    expect(await savedRigs.remove('own-first', shelf)).toBe('')
    expect(savedRigs.read(shelf).things.map(({ name }) => name)).toEqual(['second'])
  })

  test('without a store nothing is saved, and it is said', async () => {
    expect(savedRigs.read(undefined)).toEqual({ things: [], problems: [] })
    expect((await savedRigs.save('x', top, undefined)).problem).toContain('does not let the page keep anything')
  })

  test('fifty are the most', async () => {
    const shelf = new Shelf()
    for (let count = 1; count <= 50; count++) await savedRigs.save(`rig ${count}`, compact, shelf)
    expect((await savedRigs.save('one more', compact, shelf)).problem).toContain('50 rigs already')
    expect((await savedRigs.save('rig 7', top, shelf)).problem).toBe('')
    expect(savedRigs.read(shelf).things).toHaveLength(50)
  })
})

describe('what cannot be read is never lost', () => {
  test.each(['', 'not json', '[]', '{"version":0,"rigs":[]}', '{"version":1}', 'null'])(
    'spoilt text %j is set aside before anything new is written',
    async (spoilt) => {
      const shelf = new Shelf()
      shelf.texts.set(savedRigsKey, spoilt)
      expect(savedRigs.read(shelf).things).toEqual([])
      expect(savedRigs.read(shelf).problems[0]).toContain('cannot be read')
      expect(shelf.getItem(savedRigsKey)).toBe(spoilt)
      expect((await savedRigs.save('new', top, shelf)).problem).toBe('')
      expect([...shelf.texts.values()]).toContain(spoilt)
      expect(savedRigs.read(shelf)).toMatchObject({ things: [{ name: 'new' }], problems: [] })
    },
  )

  test('spoilt text stays in place when there is no room to set it aside', async () => {
    const shelf = new Shelf()
    shelf.texts.set(savedRigsKey, 'spoilt')
    shelf.room = 3
    expect((await savedRigs.save('new', top, shelf)).problem).toContain('still there')
    expect(shelf.getItem(savedRigsKey)).toBe('spoilt')
  })

  test('one spoilt rig among good ones is named, kept, and survives the next save', async () => {
    const shelf = new Shelf()
    await savedRigs.save('good', top, shelf)
    const file = JSON.parse(shelf.getItem(savedRigsKey) ?? '')
    const spoilt = { key: 'own-odd', name: 'odd', rig: { name: 'odd', cabinets: 'later form' } }
    shelf.texts.set(savedRigsKey, JSON.stringify({ ...file, rigs: [spoilt, ...file.rigs] }))
    expect(savedRigs.read(shelf)).toMatchObject({ things: [{ name: 'good' }], problems: [/1 of the saved rigs/] })
    await savedRigs.save('another', compact, shelf)
    expect(JSON.parse(shelf.getItem(savedRigsKey) ?? '').rigs).toContainEqual(spoilt)
    expect(exportRigs(shelf)).toContain('later form')
  })

  test('rigs of a newer version are not touched', async () => {
    const shelf = new Shelf()
    const newer = JSON.stringify({ version: 2, racks: [] })
    shelf.texts.set(savedRigsKey, newer)
    expect((await savedRigs.save('new', top, shelf)).problem).toContain('newer version')
    expect(await savedRigs.remove('own-new', shelf)).toContain('newer version')
    expect(shelf.getItem(savedRigsKey)).toBe(newer)
  })
})

describe('the file', () => {
  test('an exported file imported elsewhere gives the same rigs, and twice gives them once', async () => {
    const shelf = new Shelf()
    await savedRigs.save('first', top, shelf)
    await savedRigs.save('second', compact, shelf)
    const text = exportRigs(shelf)
    const other = new Shelf()
    expect(await importRigs(text, other)).toEqual({ added: 2, already: 0, problems: [] })
    expect(savedRigs.read(other).things).toEqual(savedRigs.read(shelf).things)
    expect(await importRigs(text, other)).toEqual({ added: 0, already: 2, problems: [] })
    expect(exportRigs(other)).toBe(text)
  })

  test('a different rig of a known name comes in beside it', async () => {
    const shelf = new Shelf()
    await savedRigs.save('ours', top, shelf)
    const other = new Shelf()
    await savedRigs.save('ours', compact, other)
    expect((await importRigs(exportRigs(shelf), other)).added).toBe(1)
    expect(savedRigs.read(other).things.map(({ name }) => name)).toEqual(['ours', 'ours (2)'])
  })

  test.each([
    ['hello', 'it is not JSON'],
    ['{"rigs":[]}', 'it has no version'],
    ['{"version":9,"rigs":[]}', 'a newer version wrote it'],
    ['{"version":1,"rigs":{}}', 'it has no list of rigs'],
    ['x'.repeat(600_000), 'too long'],
  ])('%.30s is refused with the reason', async (text, reason) => {
    const shelf = new Shelf()
    const { added, problems } = await importRigs(text, shelf)
    expect(added).toBe(0)
    expect(problems[0]).toContain(reason)
    expect(shelf.texts.size).toBe(0)
  })

  test('a bad rig in a file is left out with its reason, the others come in', async () => {
    const shelf = new Shelf()
    await savedRigs.save('good', top, shelf)
    const file = JSON.parse(exportRigs(shelf))
    const far = structuredClone(file.rigs[0])
    far.rig.cabinets[0].widthM = 1e9
    const strange = { ...structuredClone(file.rigs[0]), ['__proto__x']: 1 }
    const other = new Shelf()
    const { added, problems } = await importRigs(JSON.stringify({ ...file, rigs: [far, strange, ...file.rigs] }), other)
    expect(added).toBe(1)
    expect(problems[0]).toMatch(/Rig 1 .*widthM is 1000000000/)
    expect(problems[1]).toMatch(/Rig 2 /)
  })
})

describe('a rig that came from somebody else', () => {
  test('is added beside another one of its name, and not twice', async () => {
    const shelf = new Shelf()
    await savedRigs.save('FOH', top, shelf)
    expect((await savedRigs.add('FOH', compact, shelf)).thing?.name).toBe('FOH (2)')
    expect((await savedRigs.add('FOH', top, shelf)).thing?.key).toBe('own-foh')
    const { things } = savedRigs.read(shelf)
    expect(things.map(({ name, rig }) => [name, rig.name])).toEqual([
      ['FOH', top.name],
      ['FOH (2)', compact.name],
    ])
  })

  test('goes as a file that another device reads', async () => {
    const shelf = new Shelf()
    expect((await importRigs(rigsFile([{ name: 'FOH', rig: top }]), shelf)).added).toBe(1)
    expect(savedRigs.read(shelf).things.map(({ name, rig }) => [name, rig])).toEqual([['FOH', top]])
  })
})
