import { globSync, readFileSync } from 'node:fs'
import { join } from 'node:path'
import { expect, test } from 'vitest'
import { bassHz, trebleHz } from '../../../../src/engine/scene/third-octaves.ts'
import { givenNames, givenText } from '../../../../src/widgets/prose/givens.ts'

const root = join(import.meta.dirname, '../../../..')
const read = (file: string) => readFileSync(join(root, file), 'utf8')
const written = (name: string) => givenText(name, '/')('m')

test('what is set is written from where it is set', () => {
  expect(written('bass')).toBe(`${bassHz.from} to ${bassHz.to} Hz`)
  expect(written('treble')).toBe(`${trebleHz.from / 1000} to ${trebleHz.to / 1000} kHz`)
  expect([givenText('temperature', '/')('m'), givenText('temperature', '/')('ft')]).toEqual(['20 °C', '68 °F'])
  expect(() => givenText('trebel', '/lessons/x/')).toThrow(
    /^\/lessons\/x\/: no given is called "trebel"\. Near it are treble, /,
  )
})

test('every given that content asks for is there', () => {
  const asked = globSync('content/**/*.mdx', { cwd: root }).flatMap((page) =>
    [...read(page).matchAll(/<Given\s+name="([^"]*)"/g)].map(([, name = '']) => name),
  )
  expect(asked.length).toBeGreaterThan(5)
  expect(asked.filter((name) => !(givenNames as string[]).includes(name))).toEqual([])
})

test('no sentence says a given in digits of its own', () => {
  const range = (name: string) => written(name).replace(' to ', '(?: to |–|-)').replace(' ', '[ \u00a0]')
  const spoken = [
    range('bass'),
    range('treble'),
    `at ${written('temperature')}`,
    `(?:below|above) ${written('bass-share-limit')}`,
  ]
  const digits = new RegExp(spoken.join('|'), 'g')
  const files = globSync(['content/{lessons,answers}/*.mdx', 'src/**/*.{svelte,astro}', 'src/**/*.messages.json'], {
    cwd: root,
  })
  expect(files.length).toBeGreaterThan(100)
  expect('Bass, 40–160 Hz, at 20 °C, below 250 Hz'.match(digits)).toHaveLength(3)
  expect(files.flatMap((file) => (read(file).match(digits) ?? []).map((found) => `${file}: ${found}`))).toEqual([])
})

test('the glossary, which takes no components, says the limit of the bass share as it is', () => {
  expect(read('content/glossary/bass-share.md')).toContain(`below ${written('bass-share-limit')}`)
})
