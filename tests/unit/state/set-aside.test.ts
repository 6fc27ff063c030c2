import { afterEach, expect, test, vi } from 'vitest'
import { asideFile, asideNames, forgetAside } from '../../../src/state/set-aside.ts'

afterEach(() => vi.unstubAllGlobals())

/** Storage whose names are its keys, as a browser's is. */
const stubStorage = (texts: Record<string, string>) => {
  const forms = {
    getItem: (key: string) => texts[key] ?? null,
    removeItem: (key: string) => void delete texts[key],
  }
  vi.stubGlobal('localStorage', new Proxy(texts, { get: (_, name) => forms[name as keyof typeof forms] }))
}

test('what is set aside is found among what is kept, comes out to the letter, and is forgotten alone', () => {
  const texts = {
    'round-the-back.rigs': '{}',
    'round-the-back.rigs.unread.2': '{ half',
    'round-the-back.plan.unread.1': 'torn \ud83d',
    'round-the-back.plan.changes': '4',
    'elsewhere.unread.1': 'not ours',
  }
  stubStorage(texts)
  expect(asideNames()).toEqual(['round-the-back.plan.unread.1', 'round-the-back.rigs.unread.2'])
  expect(JSON.parse(asideFile())).toEqual({
    'round-the-back.plan.unread.1': 'torn \ud83d',
    'round-the-back.rigs.unread.2': '{ half',
  })
  forgetAside()
  expect(Object.keys(texts).sort()).toEqual([
    'elsewhere.unread.1',
    'round-the-back.plan.changes',
    'round-the-back.rigs',
  ])
})

test('where storage is blocked nothing is set aside', () => {
  expect(asideNames()).toEqual([])
})
