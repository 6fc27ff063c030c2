import { globSync, readFileSync } from 'node:fs'
import { expect, test } from 'vitest'

/** Words that a reader meets in a lesson who opens nothing: what is folded, formulas on lines of their own and figures left out. */
function mainLineWords(mdx: string): number {
  const text = mdx
    .replace(/^---\n.*?\n---\n/s, '')
    .replace(/^import .*$/gm, '')
    .replace(/<Deeper>.*?<\/Deeper>/gs, '')
    .replace(/\$\$.*?\$\$/gs, '')
    .replace(/\$[^$]*\$/g, ' formula ')
    // A number, a length, a source or a term is a word.
    .replace(/<(Fact|Given|Length|Source|Term)\b[^>]*\/>/g, ' word ')
    .replace(/<[^>]*>/g, ' ')
  return (text.match(/\S*[\p{L}\d]\S*/gu) ?? []).length
}

/** What is read and tried in a quarter of an hour. */
const mostWords = 1500
const lessons = globSync('content/lessons/*.mdx')

test('words are counted as they are read', () => {
  const mdx = [
    '---\ntitle: Not counted\n---\n\nimport A from "b"\n\n## Why\n\nIt is <Fact name="a-b" /> $x$ <Term id="c">long</Term>.',
    '<Deeper>\n\n### Folded?\n\nNot counted.\n\n</Deeper>\n\n$$\nx = y\n$$\n\n| – | two | words |\n',
  ].join('\n\n')
  // Why It is word formula long two words
  expect(mainLineWords(mdx)).toBe(8)
})

test.each(lessons)(`the main line of %s has at most ${mostWords} words`, (file) => {
  expect(mainLineWords(readFileSync(file, 'utf8'))).toBeLessThanOrEqual(mostWords)
})

test.each(lessons)('every fold of %s is closed, and begins with a question', (file) => {
  const mdx = readFileSync(file, 'utf8')
  const folds = [...mdx.matchAll(/<Deeper>(.*?)<\/Deeper>/gs)].map(([, inside = '']) => inside)
  expect(mdx.match(/<\/?Deeper>/g) ?? []).toHaveLength(2 * folds.length)
  for (const inside of folds) expect(inside).toMatch(/^\n\n### .+\?\n\n/)
})
