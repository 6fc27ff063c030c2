import { describe, expect, test } from 'vitest'
import { seededRandom } from '../../../src/acoustics/signals/seeded-random.ts'
import { checkSum, DigitError, DigitReader, DigitWriter, mostIn } from '../../../src/state/digit-text.ts'

describe('numbers as digits of base 64', () => {
  test('numbers and words are read back in their order, and nothing has to be escaped', () => {
    const random = seededRandom(3)
    for (let round = 0; round < 200; round++) {
      const counts = Array.from({ length: 8 }, () => 1 + Math.floor(random() * 6))
      const values = counts.map((count) => Math.floor(random() * (mostIn(count) + 1)))
      const words = ['', 'a', 'äö', 'Halle 3 – „Probe“', '🎧🎧', 'x'.repeat(200)][round % 6] ?? ''
      const writer = new DigitWriter()
      for (const [index, count] of counts.entries()) writer.number(values[index] ?? 0, count)
      writer.words(words)
      writer.number(5, 1)
      expect(encodeURIComponent(writer.text)).toBe(writer.text)
      const reader = new DigitReader(writer.text)
      expect(counts.map((count) => reader.number(count))).toEqual(values)
      expect(reader.words()).toBe(words)
      expect(reader.isAtEnd).toBe(false)
      expect(reader.number(1)).toBe(5)
      expect(reader.isAtEnd).toBe(true)
    }
  })

  test('what does not fit is refused by name', () => {
    for (const value of [-1, 64, 1.5, Number.NaN])
      expect(() => new DigitWriter().number(value, 1)).toThrow(/allowed is a whole number from 0 to 63/)
  })

  test('a text that ends too early, has another sign, or holds no words is an error of its own', () => {
    expect(() => new DigitReader('A').number(2)).toThrow(DigitError)
    expect(() => new DigitReader('A.').number(2)).toThrow(DigitError)
    const broken = new DigitWriter()
    broken.number(1, 2)
    broken.number(0xff, 2)
    expect(() => new DigitReader(broken.text).words()).toThrow(DigitError)
  })

  test('the check sum is that of its source', () => {
    // Published with the algorithm: the sums of nothing, of “a” and of “foobar”.
    expect([checkSum(''), checkSum('a'), checkSum('foobar')]).toEqual([0x811c9dc5, 0xe40c292c, 0xbf9cf968])
  })
})
