import { readdirSync, readFileSync } from 'node:fs'
import { expect, test } from 'vitest'

const folder = new URL('../../../src/sound/', import.meta.url)
const files = readdirSync(folder).filter((name) => name.endsWith('.ts'))
const importsOf = (name: string): string[] =>
  [...readFileSync(new URL(name, folder), 'utf8').matchAll(/(?:from|import) '([^']+)'/g)].map((match) => match[1] ?? '')

test('one file imports Tone.js, and never its index, which opens an audio context on being loaded', () => {
  const importers = files.filter((name) => importsOf(name).some((path) => path.startsWith('tone')))
  expect(importers).toEqual(['tone-nodes.ts'])
  for (const path of importsOf('tone-nodes.ts').filter((each) => each.startsWith('tone'))) {
    expect(path).toMatch(/^tone\/build\/esm\/(core\/context|component\/filter|signal|source)\/.+\.js$/)
  }
  expect(importsOf('tone-nodes.ts')[0]).toBe('./silence-tone-log.ts')
})

test('what a page may import before the press leads to no Tone.js', () => {
  const reached = new Set<string>()
  const follow = (name: string): void => {
    if (reached.has(name)) return
    reached.add(name)
    for (const path of importsOf(name)) if (path.startsWith('./')) follow(path.slice(2))
  }
  follow('audition-types.ts')
  expect(reached.has('tone-nodes.ts')).toBe(false)
})
