import { describe, expect, test } from 'vitest'
import { seededRandom } from '../../../src/acoustics/signals/seeded-random.ts'
import { plainWords } from '../../../src/state/plain-words.ts'

const plain = (text: string, most = 280) => plainWords(text, most)

describe('words that somebody else wrote', () => {
  test('are one line, without signs that control or turn the direction', () => {
    expect(plain('  two\r\nlines\u0000 and\ta tab\u2028 ')).toBe('two lines and a tab')
    expect(plain('pay\u202egnp.exe\u202c now')).toBe('paygnp.exe now')
    expect(plain('\u2066\u2067\u2068x\u2069\u200e\u200f\u061c\ufeff\u00ad\u200b')).toBe('x')
    expect(plain('\u{E0001}hid\u{E0041}den')).toBe('hidden')
  })

  test('keep emoji, whatever they are made of', () => {
    for (const emoji of [
      '🔊',
      '👩🏽‍🔧',
      '🏳️‍🌈',
      '🇩🇪',
      '1️⃣',
      '👨‍👩‍👧‍👦',
      '🏴\u{E0067}\u{E0062}\u{E0065}\u{E006E}\u{E0067}\u{E007F}',
    ])
      expect(plain(`a ${emoji} b`)).toBe(`a ${emoji} b`)
  })

  test('keep every script: right to left, joined without a joiner, with marks above and below', () => {
    for (const text of ['שלום מהצוות', 'مرحبا بكم', 'می‌خواهم', 'Nguyễn Thị', 'ครับผม', 'हिन्दी', '音響班'])
      expect(plain(text)).toBe(text.normalize('NFC'))
  })

  test('lose marks that would be drawn over other lines, and halves of a pair', () => {
    expect(plain(`Z${'\u0335\u0321'.repeat(40)}x`)).toHaveLength(6)
    expect(plain('a\ud83d')).toBe('a')
    expect(plain('\udd0a b')).toBe('b')
  })

  test('are cut where they are too long, never through a sign', () => {
    expect(plain('x'.repeat(1_000_000), 60)).toHaveLength(60)
    expect(plain('🔊'.repeat(200), 61)).toBe('🔊'.repeat(30))
    expect(plain(`${'x'.repeat(57)}👩🏽‍🔧`, 62)).toBe(`${'x'.repeat(57)}👩🏽`)
  })

  test('20,000 texts of every kind of sign: never longer than stated, well formed, one line, and plain already', () => {
    const random = seededRandom(20261129)
    const pick = <T>(list: readonly T[]): T => list[Math.floor(random() * list.length)] as T
    const ranges = [
      [0, 0x7f],
      [0x80, 0x36f],
      [0x590, 0x700],
      [0x900, 0xe7f],
      [0x2000, 0x206f],
      [0xd800, 0xdfff],
      [0xe000, 0xffff],
      [0x1f1e6, 0x1faff],
      [0xe0000, 0xe01ef],
      [0, 0x10ffff],
    ] as const
    const sign = () => {
      const [from, to] = pick(ranges)
      return String.fromCodePoint(from + Math.floor(random() * (to - from + 1)))
    }
    for (let round = 0; round < 20_000; round++) {
      const text = Array.from({ length: Math.floor(random() * 40) }, sign).join('')
      const most = 1 + Math.floor(random() * 30)
      const words = plain(text, most)
      const which = JSON.stringify([round, text, most])
      expect(words.length, which).toBeLessThanOrEqual(most)
      expect(words.isWellFormed(), which).toBe(true)
      expect(words, which).not.toMatch(/[\p{Cc}\p{Zl}\p{Zp}\u061c\u200e\u200f\u202a-\u202e\u2066-\u2069]/u)
      expect(words, which).toBe(words.trim())
      expect(plain(words, most), which).toBe(words)
    }
  })
})
