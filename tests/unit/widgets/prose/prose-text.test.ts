import { describe, expect, it } from 'vitest'
import { sourceCitation } from '../../../../src/widgets/prose/source-citation.ts'
import { sourcesInProse } from '../../../../src/widgets/prose/sources-in-prose.ts'
import { fineLengthText } from '../../../../src/words/lengths.ts'
import { wholeText } from '../../../../src/words/numbers.ts'

describe('numbers in prose', () => {
  it('are whole, with a true minus sign and no minus zero', () => {
    expect(wholeText(23.4)).toBe('23')
    expect(wholeText(-2.6)).toBe('−3')
    expect(wholeText(-0.2)).toBe('0')
  })
  it('are fine lengths where 5 cm is too coarse', () => {
    expect(fineLengthText(0.0858, 'm')).toBe('9 cm')
    expect(fineLengthText(0.0858, 'ft')).toBe('3.5 in')
    expect(fineLengthText(2.66, 'm')).toBe('2.66 m')
    expect(fineLengthText(2.66, 'ft')).toBe('8.7 ft')
  })
})

describe('a source as the text names it', () => {
  it('is the number of a standard, the authors of a work, else its title', () => {
    expect(sourceCitation('iso-9613-1', { title: 'Attenuation', year: 1993 })).toBe('ISO 9613-1:1993')
    expect(sourceCitation('waves', { title: 'Waves', authors: 'A. Able, B. C. Baker', year: 1968 })).toBe(
      'Able and Baker 1968',
    )
    expect(sourceCitation('waves', { title: 'Waves', authors: 'A. Able, Jr.', year: 1968 })).toBe('Able 1968')
    expect(sourceCitation('waves', { title: 'Waves', authors: 'A. Able, B. Baker, C. Cole', year: 1968 })).toBe(
      'Able et al. 1968',
    )
    expect(sourceCitation('guide', { title: 'A guide', year: 2022 })).toBe('A guide')
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
