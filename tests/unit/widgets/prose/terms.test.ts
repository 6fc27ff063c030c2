import { globSync, readFileSync } from 'node:fs'
import { basename } from 'node:path'
import { expect, test } from 'vitest'
import { termsInProse } from '../../../../src/widgets/prose/terms-in-prose.ts'

const prose = globSync(['content/**/*.{mdx,md}', 'src/**/*.messages.json'])
const read = (file: string) => readFileSync(file, 'utf8')

test('the terms of a page are listed once each, in order', () => {
  expect(termsInProse('<Term id="b">B</Term> <Term id="a" /> <Term id="b" />')).toEqual(['b', 'a'])
})

test('every term that content uses is in the glossary', () => {
  const known = globSync('content/glossary/*.md').map((file) => basename(file, '.md'))
  const used = globSync('content/**/*.mdx').flatMap((file) => termsInProse(read(file)))
  expect(used.length).toBeGreaterThan(60)
  expect(used.filter((id) => !known.includes(id))).toEqual([])
})

test('words that figures and formulas use without a word of their own are in the glossary', () => {
  const known = globSync('content/glossary/*.md').map((file) => basename(file, '.md'))
  const needed = ['re', 'set-flat', 'two-way', 'base', 'passband', 'null', 'limiter', 'lg', 'decibel', 'third-octave']
  expect(needed.filter((id) => !known.includes(id))).toEqual([])
})

test('a box of the other polarity is inverted, and has no second name', () => {
  const others =
    /switch(ed|es|ing)? over|upside down|flipped|the other way up|switched <?\w*[^>]*>?polarity|switch(es|ed)? the polarity/i
  expect('a switched <Term id="polarity">polarity</Term>').toMatch(others)
  expect(prose.filter((file) => others.test(read(file)))).toEqual([])
})
