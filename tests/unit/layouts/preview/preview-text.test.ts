import { describe, expect, test } from 'vitest'
import { linesOf, textSvg, textWidthPx } from '../../../../src/layouts/preview/preview-text.ts'

const at = { xPx: 100, yPx: 50, sizePx: 20, face: 'text', fill: '#000' } as const

describe('words as outlines', () => {
  test('a text is as wide as its signs, in proportion to its size', () => {
    const bass = textWidthPx('bass', 'text', 20)
    expect(bass).toBeGreaterThan(30)
    expect(bass).toBeLessThan(60)
    expect(textWidthPx('bass', 'text', 40)).toBeCloseTo(2 * bass, 9)
    expect(textWidthPx('bass bass', 'figures', 20)).toBeCloseTo(
      2 * textWidthPx('bass', 'figures', 20) + textWidthPx(' ', 'figures', 20),
      9,
    )
  })

  test('outlines alone come out, none for a space, with y downward: a letter stands on its line', () => {
    const svg = textSvg('I x', at)
    expect(svg).not.toContain('<text')
    expect(svg.match(/<path/g)).toHaveLength(2)
    const [, path = ''] = /d="([^"]*)"/.exec(svg) ?? []
    const heights = [...path.matchAll(/[ML]\s?(-?[\d.]+)[ ,](-?[\d.]+)/g)].map(([, , y]) => Number(y))
    expect(Math.max(...heights)).toBeLessThanOrEqual(0.02)
    expect(Math.min(...heights)).toBeLessThan(-0.5)
  })

  test('the anchor says which part of the text stands at the place', () => {
    const first = (anchor: 'start' | 'middle' | 'end') =>
      Number(/translate\((-?[\d.]+)/.exec(textSvg('bass', { ...at, anchor }))?.[1])
    const width = textWidthPx('bass', 'text', 20)
    expect(first('start')).toBeCloseTo(100, 1)
    expect(first('middle')).toBeCloseTo(100 - width / 2, 1)
    expect(first('end')).toBeCloseTo(100 - width, 1)
  })

  test('a sign that the typeface lacks stops the build by its name', () => {
    expect(() => textSvg('音', at)).toThrow('no “音”')
  })

  test('lines break between words, are no wider than stated and end with an ellipsis where there are too many', () => {
    const text = 'There isn’t. The treble is missing there, so bass is a larger part of what is left.'
    const lines = linesOf(text, 'text', 27, 300, 99)
    expect(lines.join(' ')).toBe(text)
    for (const line of lines) expect(textWidthPx(line, 'text', 27)).toBeLessThanOrEqual(300)
    const cut = linesOf(text, 'text', 27, 300, 2)
    expect(cut).toHaveLength(2)
    expect(cut[1]).toMatch(/ …$/)
  })
})
