import { describe, expect, test } from 'vitest'
import { doLinesOf } from '../../../src/tools/do-lines.mjs'

const text = (value: string) => ({ type: 'text', value })
const strong = (value: string) => ({ type: 'strong', children: [text(value)] })
const component = (name: string, attributes: Record<string, unknown>, children: unknown[] = []) => ({
  type: 'mdxJsxTextElement',
  name,
  attributes: Object.entries(attributes).map(([key, value]) => ({ type: 'mdxJsxAttribute', name: key, value })),
  children,
})
const heading = (value: string) => ({ type: 'heading', depth: 2, children: [text(value)] })
const step = (...children: unknown[]) => ({ type: 'listItem', children: [{ type: 'paragraph', children }] })
const list = (...children: unknown[]) => ({ type: 'list', ordered: true, children })
const lesson = (...steps: unknown[]) => ({
  children: [heading('Why'), list(step(text('Not this one at all.'))), heading('Do'), list(...steps)],
})
const lines = (...steps: unknown[]) => doLinesOf(lesson(...steps), 'a lesson')

describe('the steps of a lesson’s Do', () => {
  test('each comes down to its first sentence, marked up or not', () => {
    expect(lines(step(strong('Know your number.'), text(' Divide it by two. Then write it.')))).toEqual([
      ['Know your number.'],
    ])
    expect(lines(step(text('Walk back to the front. Was it weaker?')))).toEqual([['Walk back to the front.']])
    expect(lines(step(strong('Write down'), text(' the hall, and how full it was.')))).toEqual([
      ['Write down', ' the hall, and how full it was.'],
    ])
  })

  test('a sentence of one or two words takes the next one along', () => {
    expect(lines(step(strong('Trim it.'), text(' Stay at the table. Let somebody help.')))).toEqual([
      ['Trim it.', ' Stay at the table.'],
    ])
    expect(lines(step(text('Walk it. Then walk it once more. Then rest.')))).toEqual([
      ['Walk it. Then walk it once more.'],
    ])
  })

  test('a number stays where it is, with what its author gave it', () => {
    const fact = component('Fact', {
      name: 'compare-distance',
      exact: null,
      digits: { type: 'mdxJsxAttributeValueExpression', value: '1' },
    })
    expect(lines(step(strong('Distance.'), text(' One tape, '), fact, text(' each way. More.')))).toEqual([
      [
        'Distance.',
        ' One tape, ',
        { component: 'Fact', given: { name: 'compare-distance', exact: true, digits: 1 } },
        ' each way.',
      ],
    ])
  })

  test('a word of the trade and a link are words; a quotation may close a sentence, and so may the other language’s bracket', () => {
    const term = component('Term', { id: 'limiter' }, [text('limiters')])
    expect(lines(step(text('Look at the '), term, text('. Then go.')))).toEqual([['Look at the ', 'limiters', '.']])
    expect(lines(step(strong('Ask them “or too little?”'), text(' Then go.')))).toEqual([['Ask them “or too little?”']])
    expect(lines(step(strong('⟦Ķñôŵ ýôûŕ ñûṁƀéŕ.⟧'), text(' ⟦Ţĥéñ ĝô.⟧')))).toEqual([['⟦Ķñôŵ ýôûŕ ñûṁƀéŕ.⟧']])
  })

  test('lists that a table parts are one', () => {
    const tree = {
      children: [
        heading('Do'),
        list(step(text('Do this first of all.'))),
        { type: 'table' },
        list(step(text('Then do this one.'))),
      ],
    }
    expect(doLinesOf(tree, 'a lesson')).toEqual([['Do this first of all.'], ['Then do this one.']])
  })

  test('what cannot be printed stops the build with the lesson’s name', () => {
    expect(() => lines(step(component('Slider', {}), text(' moves.')))).toThrow('a lesson: the first sentence')
    expect(() => lines(step(text('No end of a sentence')))).toThrow('a lesson: a step under Do has no end')
    expect(() => doLinesOf({ children: [heading('Do')] }, 'a lesson')).toThrow('there are no numbered steps')
  })
})
