import { describe, expect, test } from 'vitest'
import { causes, headline, rangeWords } from '../../../../src/widgets/compare/describe-verdict.ts'
import { caseOf, cases, isTrue } from '../../acoustics/measuring/verdict-cases.ts'

/** How a headline begins, and what it claims of the bass. */
const begins = {
  'hardly-any': 'No: there is hardly any difference in the bass.',
  distance: 'No: what differs in the bass is the distance',
  reflection: 'No: it is not the loudspeaker.',
  'really-more': 'Yes: there really is more bass behind',
  'really-less': 'No: there is really less bass behind',
  'cannot-tell': 'That cannot be told from these recordings.',
} as const

describe('the words of a verdict', () => {
  const told = cases.map(({ kind, seed }) => ({ kind, ...caseOf(kind, seed) }))

  test('210 cases of known truth: no headline claims what is not so', () => {
    const claims = new Set<string>()
    for (const { truth, told: verdict } of told) {
      const words = headline(verdict)
      // Read back from the words alone, as a reader would.
      const claimed = (Object.keys(begins) as (keyof typeof begins)[]).filter((cause) =>
        words.startsWith(begins[cause]),
      )
      expect(claimed, words).toHaveLength(1)
      expect(isTrue({ ...verdict, bassCause: claimed[0] ?? 'cannot-tell' }, truth), words).toBe(true)
      claims.add(claimed[0] ?? '')
    }
    expect([...claims].sort()).toEqual(Object.keys(begins).sort())
  })

  test('what cannot be told comes with what to do', () => {
    for (const { told: verdict } of told) {
      if (verdict.bassCause !== 'cannot-tell') continue
      expect(headline(verdict)).toMatch(/Record|Enter|Answer|Look for/)
    }
  })

  test('“behind” is said of the place behind: front less behind above nought is less behind', () => {
    for (const { told: verdict } of told) {
      const [bass] = rangeWords(verdict)
      const levelDb = Math.round(verdict.bass?.difference.levelDb ?? 0)
      expect(bass?.value).toBe(
        levelDb === 0 ? 'the same behind' : `${Math.abs(levelDb)} dB ${levelDb > 0 ? 'less' : 'more'} behind`,
      )
    }
  })

  test('every case says what loudspeaker, geometry and room did', () => {
    for (const { told: verdict } of told) {
      const all = causes(verdict, false, 'm')
      expect(all).toHaveLength(3)
      for (const { sentences } of all) expect(sentences.join(' ')).toMatch(/^[A-Z].*\.$/)
    }
  })
})
