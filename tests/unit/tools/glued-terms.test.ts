import { expect, test } from 'vitest'
import { rehypeGluedTerms } from '../../../src/tools/glued-terms.mjs'

const text = (value: string) => ({ type: 'text', value })
const term = { type: 'mdxJsxTextElement', name: 'Term', attributes: [], children: [] }
const element = (tagName: string, ...children: unknown[]) => ({ type: 'element', tagName, children })
/** What stands in a paragraph afterwards, what is kept together in square brackets. */
function after(...children: unknown[]): string {
  const root = { type: 'root', children: [element('p', ...children)] }
  rehypeGluedTerms()(root)
  const write = (node: { value?: string; name?: string; tagName?: string; children?: never[] }): string =>
    node.value ?? (node.name ? 'TERM' : wrapped(node.tagName, (node.children ?? []).map(write).join('')))
  const wrapped = (tagName: string | undefined, inner: string) =>
    tagName === 'span' ? `[${inner}]` : tagName === 'em' ? `*${inner}*` : inner
  return write(root as never)
}

test('brackets and stops against a term stay on its line, its neighbours do not', () => {
  expect(after(text('round it ('), term, text(') and on.'))).toBe('round it [(TERM)] and on.')
  expect(after(text('round it ('), element('em', term), text('). Then'))).toBe('round it [(*TERM*).] Then')
  expect(after(text('the '), term, text(', or more'))).toBe('the [TERM,] or more')
})

test('a term between spaces, at the beginning or at the end is left alone', () => {
  expect(after(text('the '), term, text(' of it'))).toBe('the TERM of it')
  expect(after(term, text(' of it'))).toBe('TERM of it')
  expect(after(text('the '), term)).toBe('the TERM')
})

test('two terms and what is deeper are looked at each', () => {
  expect(after(text('a '), term, text(', ('), term, text(') b'))).toBe('a [TERM,] [(TERM)] b')
  expect(after(element('strong', text('say ('), term, text(')')), text(' x'))).toBe('say [(TERM)] x')
})
