import { beforeEach, describe, expect, it } from 'vitest'
import { keepText, storedText, type TextStore, versionedJson } from '../../../src/state/kept-text.ts'

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

describe('a text on the device', () => {
  const kept = new Map<string, string>()
  const store: TextStore = {
    getItem: (key) => kept.get(key) ?? null,
    setItem: (key, text) => void kept.set(key, text),
  }
  const shut = () => {
    throw new Error('refused')
  }
  beforeEach(() => kept.clear())

  it('is kept in place of the one before; one that cannot be read is set aside, over nothing that was', () => {
    expect(keepText('plan', 'one', null, store)).toBe('')
    for (const unread of ['torn', 'torn again']) expect(keepText('plan', 'two', unread, store)).toBe('')
    expect(storedText('plan', store)).toBe('two')
    expect([...kept]).toEqual([
      ['plan', 'two'],
      ['plan.unread.1', 'torn'],
      ['plan.unread.2', 'torn again'],
    ])
  })

  it('that the device does not keep, or has no room for, is told', () => {
    expect(keepText('plan', 'one', null, { ...store, setItem: () => {} })).toBe('notKept')
    expect(keepText('plan', 'one', 'torn', { ...store, setItem: shut })).toBe('noRoom')
    expect(keepText('plan', 'one', null, undefined)).toBe('notKept')
    expect([...kept]).toEqual([])
  })

  it('is told from one that is not there and from a device that keeps nothing', () => {
    expect(storedText('plan', store)).toBeNull()
    expect(storedText('plan', { ...store, getItem: shut })).toBeUndefined()
    expect(storedText('plan', undefined)).toBeUndefined()
  })
})
