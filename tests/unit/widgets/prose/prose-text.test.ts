import { describe, expect, it } from 'vitest'
import { wholeText } from '../../../../src/widgets/prose/number-text.ts'
import { smallLengthText } from '../../../../src/widgets/prose/small-length-text.ts'
import { sourcesInProse } from '../../../../src/widgets/prose/sources-in-prose.ts'

describe('numbers in prose', () => {
  it('are whole, with a true minus sign and no minus zero', () => {
    expect(wholeText(23.4)).toBe('23')
    expect(wholeText(-2.6)).toBe('−3')
    expect(wholeText(-0.2)).toBe('0')
  })
  it('are whole centimetres or half inches for a small thing', () => {
    expect(smallLengthText(0.0858, 'm')).toBe('9 cm')
    expect(smallLengthText(0.0858, 'ft')).toBe('3.5 in')
  })
})

describe('the list of sources under a lesson', () => {
  it('is what the text cites, each once, in order', () => {
    expect(sourcesInProse('x <Source id="b-1" /> y <Source id="a">A</Source> <Source id="b-1" />')).toEqual([
      'b-1',
      'a',
    ])
    expect(sourcesInProse('none')).toEqual([])
  })
})
