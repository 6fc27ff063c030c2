import { globSync, readFileSync } from 'node:fs'
import { stripTypeScriptTypes } from 'node:module'
import { basename, join } from 'node:path'
import MessageFormat from '@messageformat/core'
import { parse, type Token } from '@messageformat/parser'
import { describe, expect, test } from 'vitest'
import { messageModule } from '../../../src/tools/message-code.mjs'
import { type Part, plainText } from '../../../src/words/parts.ts'

type Value = string | number | boolean
type Say = (values: Record<string, Value>) => string | Part<string>[]

const root = join(import.meta.dirname, '../../..')
const code = (messages: Record<string, string>) => messageModule(messages, { partsPath: './parts.ts' })
const compiled = async (messages: Record<string, string>): Promise<Record<string, Say>> =>
  import(`data:text/javascript,${encodeURIComponent(stripTypeScriptTypes(code(messages)))}`)
/** The one line of a message, without `export const key = `. */
const line = (message: string) =>
  (code({ key: message }).trim().split('\n').at(-1) ?? '').replace('export const key = ', '')
const errorOf = (messages: Record<string, string>) => expect(() => code(messages))

describe('a message becomes a small typed function', () => {
  test('plain text, quotes and backticks stay as they are', async () => {
    const text = 'Say “it’s `loud`”, \\ and $5 ${'
    expect(line('Levels')).toBe('(): string => `Levels`')
    const quoted = text.replace('{', "'{'")
    expect((await compiled({ text: quoted })).text?.({})).toBe(text)
  })

  test('values are strings or numbers, plurals numbers, choices exactly their cases', () => {
    expect(line('{distance} in {direction, select, front {front} behind {the back}}')).toContain(
      "({ distance, direction }: { distance: string | number; direction: 'front' | 'behind' }): string",
    )
    expect(line('{n, plural, one {# box} other {# boxes}}')).toBe(
      ['({ n }: { n: number }): string => n === 1 ? `$', '{n} box` : `$', '{n} boxes`'].join(''),
    )
    expect(line('{place, select, hall {inside} other {outdoors}}')).toContain("{ place: 'hall' | (string & {}) }")
    expect(line('levels{wall, select, true {, without the wall} other {}}')).toContain('{ wall: boolean }')
  })

  test('a marked-up word makes a list of parts, inside a choice as well', async () => {
    expect(line('box to wall <output>{length}</output>')).toBe(
      `({ length }: { length: string | number }): Part<'output'>[] => [\`box to wall \`, { tag: 'output', text: \`\${length}\` }]`,
    )
    const { choice } = await compiled({
      choice: 'Over{loud, select, true { the limit; see <safety>safety</safety>} other {}}.',
    })
    expect(choice?.({ loud: true })).toEqual(['Over', ' the limit; see ', { tag: 'safety', text: 'safety' }, '.'])
    expect(choice?.({ loud: false })).toEqual(['Over', '.'])
  })

  test('a mistake is told with its key and its reason', () => {
    errorOf({ open: 'Hello {name' }).toThrow(/"open": .*line 1/)
    errorOf({ plural: '{n, plural, one {box}}' }).toThrow('"plural": {n, plural} has no other')
    errorOf({ choice: '{a, select, true {y}}' }).toThrow('"choice": a choice of true and false')
    errorOf({ few: '{n, plural, few {#} other {#}}' }).toThrow(/"few": .*few/)
    errorOf({ number: '{n, number}' }).toThrow('"number": {n, number} is not provided for')
    errorOf({ tag: 'see <safety>here' }).toThrow('"tag": <safety> is not closed')
    errorOf({ tag: 'see here</safety>' }).toThrow('"tag": </safety> closes nothing')
    errorOf({ twice: '{a, plural, one {x} other {y}} {a, select, x {y}}' }).toThrow('"twice": {a} is used')
    errorOf({ 'two-words': 'x' }).toThrow('camelCase')
    errorOf({ value: '{0}' }).toThrow('{0}')
    errorOf({ empty: ' ' }).toThrow('empty')
  })
})

describe('the messages of the site', () => {
  const files = globSync('src/**/*.messages.json', { cwd: root }).sort()
  const messagesOf = (file: string): Record<string, string> => JSON.parse(readFileSync(join(root, file), 'utf8'))

  test('each says what the message library says of it, for every case', async () => {
    const library = new MessageFormat('en')
    let compared = 0
    for (const file of files) {
      const messages = messagesOf(file)
      const functions = await compiled(messages)
      for (const [key, message] of Object.entries(messages)) {
        for (const values of samples(parse(message))) {
          const ours = functions[key]?.(values) ?? ''
          const theirs = library.compile(withOther(parse(message)))(values as Record<string, string>) as string
          const untagged = theirs.replace(/<\/?[a-z][a-zA-Z]*>/g, '')
          expect(typeof ours === 'string' ? ours : plainText(ours), `${file}: ${key}`).toBe(untagged)
          compared++
        }
      }
    }
    expect(compared).toBeGreaterThan(0)
  })

  test('each is used by a file that imports it', () => {
    const sources = globSync('src/**/*.{ts,svelte,astro}', { cwd: root })
      .filter((file) => !file.endsWith('.messages.ts'))
      .map((file) => readFileSync(join(root, file), 'utf8'))
    const unused = files.flatMap((file) => {
      const module = basename(file).replace('.json', '.ts')
      const users = sources.flatMap((text) => usesOf(text, module))
      return Object.keys(messagesOf(file))
        .filter((key) => !users.some((uses) => uses(key)))
        .map((key) => `${file}: ${key}`)
    })
    expect(unused).toEqual([])
  })
})

/** For a source text that imports a module of messages: whether it uses a key. */
function usesOf(text: string, module: string): ((key: string) => boolean)[] {
  const end = `from '[^']*/${module.replaceAll('.', '\\.')}'`
  const whole = [...text.matchAll(new RegExp(`import \\* as (\\w+) ${end}`, 'g'))]
  const named = [...text.matchAll(new RegExp(`(?:import|export) \\{([^}]*)\\} ${end}`, 'g'))]
  return [
    ...whole.map(
      ([, name]) =>
        (key: string) =>
          new RegExp(`\\b${name}\\.${key}\\b`).test(text),
    ),
    ...named.map(
      ([, list = '']) =>
        (key: string) =>
          new RegExp(`\\b${key}\\b`).test(list),
    ),
  ]
}

/** The message written anew, with the `other` that the library asks of every choice and ours leaves out where it cannot come. */
const withOther = (tokens: Token[]): string =>
  tokens
    .map((token) => {
      if (token.type === 'content') return token.value.replaceAll("'", "''").replace(/[{}]/g, "'$&'")
      if (token.type === 'octothorpe') return '#'
      if (token.type !== 'plural' && token.type !== 'select') return `{${token.arg}}`
      const cases = token.cases.map(({ key, tokens: inner }) => `${key} {${withOther(inner)}}`)
      const last = token.cases.some(({ key }) => key === 'other') ? '' : ' other {}'
      return `{${token.arg}, ${token.type}, ${cases.join(' ')}${last}}`
    })
    .join('')

/** Values that lead through every case of a message. */
function samples(tokens: Token[]): Record<string, Value>[] {
  const found = new Map<string, Value[]>()
  const look = (inner: Token[]) => {
    for (const token of inner) {
      if (token.type === 'argument' && !found.has(token.arg)) found.set(token.arg, [`⟨${token.arg}⟩`])
      if (token.type !== 'plural' && token.type !== 'select') continue
      const cases = token.cases.map(({ key }) => key)
      const boolean = cases.every((key) => ['true', 'false', 'other'].includes(key))
      const values = token.type === 'plural' ? [0, 1, 2, 7] : boolean ? [true, false] : cases
      found.set(token.arg, [...new Set([...(found.get(token.arg) ?? []), ...values])])
      for (const { tokens: text } of token.cases) look(text)
    }
  }
  look(tokens)
  return [...found].reduce<Record<string, Value>[]>(
    (all, [name, values]) => all.flatMap((one) => values.map((value) => ({ ...one, [name]: value }))),
    [{}],
  )
}
