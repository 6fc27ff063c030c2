import { expect, it } from 'vitest'
import { excerptOf } from '../../../../src/widgets/search/excerpt.ts'

const whole = (pieces: { text: string }[]) => pieces.map(({ text }) => text).join('')
const marked = (pieces: { text: string; isMark: boolean }[]) =>
  pieces.filter(({ isMark }) => isMark).map(({ text }) => text)

it('marks each word that was found, whatever its capitals and accents', () => {
  const pieces = excerptOf('Bass bends. The café hears bass, not bassoons.', ['bass', 'cafe'])
  expect(marked(pieces)).toEqual(['Bass', 'café', 'bass'])
  expect(whole(pieces)).toBe('Bass bends. The café hears bass, not bassoons.')
})

it('is cut at words round the first mark of a long text', () => {
  const text = `${'before '.repeat(60)}the wave ${'after '.repeat(60)}`.trim()
  const pieces = excerptOf(text, ['wave'])
  expect(marked(pieces)).toEqual(['wave'])
  expect(whole(pieces)).toMatch(/^… before .*the wave after .*after …$/)
  expect(whole(pieces).length).toBeLessThan(200)
})

it('begins at the beginning when only a heading was found, and keeps one endless word within bounds', () => {
  expect(whole(excerptOf('One two three.', ['wall']))).toBe('One two three.')
  expect(whole(excerptOf('x'.repeat(5000), ['wall'])).length).toBeLessThan(200)
  expect(excerptOf('', ['wall'])).toEqual([])
})
