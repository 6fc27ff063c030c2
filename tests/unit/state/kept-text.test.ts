import { describe, expect, it } from 'vitest'
import { setAside, versionedJson } from '../../../src/state/kept-text.ts'

describe('a text with a version in it', () => {
  it('is read up to the newest version that is known', () => {
    expect(versionedJson('{"version":2,"rigs":[]}', 2)).toEqual({ value: { version: 2, rigs: [] }, version: 2 })
    expect(versionedJson('{"version":3}', 2)).toBe('newer')
  })
  it('is told from what is none', () => {
    expect(versionedJson('', 1)).toBe('notJson')
    expect(versionedJson('{"version":', 1)).toBe('notJson')
    for (const text of ['null', '[]', '7', '{}', '{"version":0}', '{"version":1.5}', '{"version":"1"}'])
      expect(versionedJson(text, 1), text).toBe('noVersion')
  })
})

it('what is set aside overwrites nothing', () => {
  const kept = new Map<string, string>()
  const store = {
    getItem: (key: string) => kept.get(key) ?? null,
    setItem: (key: string, text: string) => kept.set(key, text),
  }
  for (const text of ['one', 'two']) setAside('unread', text, store as never)
  expect([...kept]).toEqual([
    ['unread.1', 'one'],
    ['unread.2', 'two'],
  ])
})
