// Numbers as short text for the part of an address after #: digits of base 64 that no address has to escape.

const digits = 'ABCDEFGHIJKLMNOPQRSTUVWXYZabcdefghijklmnopqrstuvwxyz0123456789-_'

/** The greatest number that so many digits hold. */
export const mostIn = (count: number): number => 64 ** count - 1

/** What is wrong with a text of digits; never shown as it stands. */
export class DigitError extends Error {}

/** Writes numbers and words one after the other; `DigitReader` reads them in the same order. */
export class DigitWriter {
  text = ''

  /**
   * @param value  whole, 0 to what `count` digits hold
   * @throws RangeError if it is not
   */
  number(value: number, count: number): void {
    if (!Number.isInteger(value) || value < 0 || value > mostIn(count)) {
      throw new RangeError(`value is ${value}; allowed is a whole number from 0 to ${mostIn(count)}`)
    }
    let part = ''
    let rest = value
    for (let place = 0; place < count; place++) {
      part = digits[rest % 64] + part
      rest = Math.floor(rest / 64)
    }
    this.text += part
  }

  /** @throws RangeError for words of more than 4095 bytes */
  words(words: string): void {
    const bytes = new TextEncoder().encode(words)
    this.number(bytes.length, 2)
    for (let at = 0; at < bytes.length; at += 3) {
      const part = bytes.subarray(at, at + 3)
      // A group of one byte takes two digits, of two bytes three, of three bytes four.
      this.number(
        part.reduce((sum, byte) => sum * 256 + byte, 0),
        part.length + 1,
      )
    }
  }
}

/** Reads what `DigitWriter` has written. Whatever cannot be read is a `DigitError`. */
export class DigitReader {
  readonly #text: string
  #at = 0

  constructor(text: string) {
    this.#text = text
  }

  get isAtEnd(): boolean {
    return this.#at === this.#text.length
  }

  number(count: number): number {
    let value = 0
    for (let place = 0; place < count; place++) {
      const digit = digits.indexOf(this.#text[this.#at + place] ?? '.')
      if (digit < 0) throw new DigitError(`There is no digit at ${this.#at + place}.`)
      value = value * 64 + digit
    }
    this.#at += count
    return value
  }

  words(): string {
    const length = this.number(2)
    const bytes = new Uint8Array(length)
    for (let at = 0; at < length; at += 3) {
      const size = Math.min(3, length - at)
      let group = this.number(size + 1)
      if (group >= 256 ** size) throw new DigitError('A group of bytes is too large.')
      for (let place = size - 1; place >= 0; place--) {
        bytes[at + place] = group % 256
        group = Math.floor(group / 256)
      }
    }
    try {
      return new TextDecoder('utf-8', { fatal: true }).decode(bytes)
    } catch {
      throw new DigitError('The bytes are no text.')
    }
  }
}

/**
 * A check sum over a text, 32 bits, so that a link that was changed on its way is noticed. One changed character is always noticed,
 * more of them but once in four thousand million times. It keeps nobody from writing a link of his own.
 *
 * Source: FNV-1a, 32 bits (Fowler, Noll, Vo).
 */
export function checkSum(text: string): number {
  let hash = 0x811c9dc5
  for (const byte of new TextEncoder().encode(text)) hash = Math.imul(hash ^ byte, 0x01000193)
  return hash >>> 0
}
