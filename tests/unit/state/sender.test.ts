import { afterEach, beforeEach, describe, expect, test, vi } from 'vitest'
import { keepSender, keptSender, longestWords, noWords, reachAddress } from '../../../src/state/sender.ts'
import { FakeStorage, fakePage } from './fake-page.ts'

// Each test is a device of its own: no turns to take with the last one's.
beforeEach(() => vi.stubGlobal('navigator', {}))
afterEach(() => vi.unstubAllGlobals())

const crew = { name: 'Deck crew', reach: 'deck@tidewater.example', note: 'Ask for us at the desk.' }

describe('what a sender adds', () => {
  test('is kept for the next time, each part by itself', async () => {
    fakePage()
    expect(keptSender()).toEqual(noWords)
    expect(await keepSender(crew)).toBe(true)
    await keepSender({ note: 'Another one.' })
    expect(keptSender()).toEqual({ ...crew, note: 'Another one.' })
  })

  test('is no longer than stated and plain, whatever the device holds', () => {
    const { storage } = fakePage()
    storage.setItem(
      'round-the-back.sender',
      JSON.stringify({ name: 'n'.repeat(999), reach: '\u202ex', note: `a\nb ${'z'.repeat(9999)}` }),
    )
    const { name, reach, note } = keptSender()
    expect([name.length, reach, note.length]).toEqual([longestWords.name, 'x', longestWords.note])
    for (const spoilt of ['', '{', '7', '[]', '{"name":1}', '{"name":"a"}']) {
      storage.setItem('round-the-back.sender', spoilt)
      expect(keptSender()).toEqual(noWords)
    }
  })

  test('a device that keeps nothing says so', async () => {
    const storage = new FakeStorage()
    storage.refuses = true
    fakePage({ storage })
    expect(await keepSender(crew)).toBe(false)
    expect(keptSender()).toEqual(noWords)
  })
})

describe('a way to reach somebody', () => {
  test('is an address only if it is plainly one mail or one telephone', () => {
    expect(reachAddress('deck.crew+hall@tidewater.example')).toBe('mailto:deck.crew+hall@tidewater.example')
    expect(reachAddress('+1 555 010-0000')).toBe('tel:+15550100000')
    expect(reachAddress('0555 01 00 00')).toBe('tel:0555010000')
  })

  test('else it stays text', () => {
    for (const text of [
      '',
      'javascript:alert(1)',
      'JaVaScRiPt:alert(1)',
      'data:text/html,x',
      'https://tidewater.example',
      'mailto:a@b.example',
      'a@b.example?bcc=c@d.example',
      'a@b.example, c@d.example',
      'a@b',
      'tel:123456',
      '12345',
      '+49 (0)555 0100',
      '123456789012345678901234567890',
      'ring the bell',
    ])
      expect(reachAddress(text), text).toBeUndefined()
  })
})
