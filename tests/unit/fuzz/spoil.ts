import { seededRandom } from '../../../src/acoustics/signals/seeded-random.ts'

// What attacks readers of links, files and stores: random, and with a fixed seed the same every time.

/** What honest fields seldom hold, and what code trips over. */
const nasty = [
  ...[
    '',
    ' ',
    '0',
    '-0',
    '-1',
    '1e308',
    '1e999',
    '-1e999',
    'NaN',
    'Infinity',
    '0x10',
    '1,5',
    '2.5',
    '1_000',
    '٣',
    '½',
    '१',
    '９',
  ],
  ...[
    'null',
    'undefined',
    'true',
    '[]',
    '{}',
    '[object Object]',
    '"',
    "'",
    '\\',
    '%',
    '%00',
    '%ff',
    '\u0000',
    '\ud800',
    '\u202e',
    '🔊',
  ],
  ...['__proto__', 'constructor', 'toString', 'hasOwnProperty', 'prototype', '<img src=x onerror=alert(1)>', '../..'],
  ...['9'.repeat(400), 'a'.repeat(300), '-'.repeat(50), ',,,,', ';;', '1;2;3', 'own-', 'sent-1', 'shown', 'in'],
]
const nastyValues: unknown[] = [
  ...[
    null,
    true,
    false,
    0,
    -0,
    -1,
    0.1,
    1e-308,
    1e308,
    2 ** 53,
    'text',
    '',
    'x'.repeat(5000),
    [],
    {},
    [[]],
    [null],
    { a: 1 },
  ],
  ...[{ length: -1 }, '__proto__', 'constructor', 1e15, -273.2, '2026-13-45T99:00:00Z'],
]

export class Spoiler {
  readonly random: () => number
  constructor(seed: number) {
    this.random = seededRandom(seed)
  }
  whole = (below: number): number => Math.floor(this.random() * below)
  one<T>(of: readonly T[]): T {
    return of[this.whole(of.length)] as T
  }
  nastyText = (): string => this.one(nasty)

  /** A text with one to eight changes: signs changed, put in, taken out, doubled; pieces cut off or moved. */
  text(good: string): string {
    let text = good
    for (let changes = 1 + this.whole(8); changes > 0; changes--) {
      const [at, to] = [this.whole(text.length + 1), this.whole(text.length + 1)]
      const [from, until] = [Math.min(at, to), Math.max(at, to)]
      const sign = String.fromCharCode(this.random() < 0.9 ? 32 + this.whole(95) : this.whole(65536))
      text = [
        () => text.slice(0, at) + sign + text.slice(at + 1),
        () => text.slice(0, at) + this.nastyText() + text.slice(at),
        () => text.slice(0, at) + text.slice(at + 1 + this.whole(6)),
        () => text.slice(0, until) + text.slice(from, Math.min(until, from + 400)) + text.slice(until),
        () => (this.random() < 0.2 ? text.slice(0, at) : text.slice(0, -1 - this.whole(3))),
        () => text.replace(/\d+(\.\d+)?/, () => this.nastyText()),
      ][this.whole(6)]?.() as string
    }
    return text
  }

  /** JSON with one to four of its values replaced, taken out or put elsewhere; seldom, a text that is no JSON any more. */
  json(good: string): string {
    if (this.random() < 0.2) return this.text(good)
    const root: { value: unknown } = { value: JSON.parse(good) }
    for (let changes = 1 + this.whole(4); changes > 0; changes--) this.#change(root, this.#places(root))
    return JSON.stringify(root.value) ?? 'undefined'
  }

  /** Bytes with some changed, more of them near the beginning, or cut off. */
  bytes(good: Uint8Array): Uint8Array {
    const bytes = good.slice(0, this.random() < 0.2 ? this.whole(good.length + 1) : good.length)
    for (let changes = 1 + this.whole(8); changes > 0 && bytes.length > 0; changes--) {
      const at = this.whole(this.random() < 0.8 ? Math.min(bytes.length, 64) : bytes.length)
      bytes[at] = this.random() < 0.3 ? this.one([0, 1, 127, 128, 255]) : this.whole(256)
    }
    return bytes
  }

  #places(root: object): { holder: Record<string, unknown>; key: string }[] {
    const found: { holder: Record<string, unknown>; key: string }[] = []
    const walk = (holder: Record<string, unknown>) => {
      for (const key of Object.keys(holder)) {
        found.push({ holder, key })
        const value = holder[key]
        if (typeof value === 'object' && value !== null) walk(value as Record<string, unknown>)
      }
    }
    walk(root as Record<string, unknown>)
    return found
  }

  #change(root: { value: unknown }, places: { holder: Record<string, unknown>; key: string }[]): void {
    const { holder, key } = this.one(places)
    const value = holder[key]
    const deeds = [
      () => (holder[key] = structuredClone(this.one(nastyValues))),
      () => (holder[key] = this.nastyText()),
      () =>
        (holder[key] =
          typeof value === 'number'
            ? value * this.one([-1, 1e3, 1e-6, 1e300, 0])
            : structuredClone(this.one(nastyValues))),
      () => (holder === root ? undefined : Array.isArray(holder) ? holder.splice(Number(key), 1) : delete holder[key]),
      () => {
        if (Array.isArray(value)) value.push(...structuredClone(value.slice(0, 200)))
        else if (!Array.isArray(holder)) holder[this.nastyText()] = structuredClone(value)
      },
      () => {
        const other = this.one(places)
        holder[key] = structuredClone(other.holder[other.key])
      },
    ]
    deeds[this.whole(deeds.length)]?.()
  }
}

/** Every number in a value that is none: NaN, infinite, or −0, which is written as another one than it is. With its way there. */
export function badNumbers(value: unknown, way = ''): string[] {
  if (typeof value === 'number') return Number.isFinite(value) && !Object.is(value, -0) ? [] : [`${way} is ${value}`]
  if (typeof value !== 'object' || value === null) return []
  if (ArrayBuffer.isView(value))
    return badNumbers(
      Array.from(value as Float32Array).find((each) => !Number.isFinite(each)),
      way,
    )
  return Object.entries(value).flatMap(([key, part]) => badNumbers(part, `${way}.${key}`))
}
