import type { CompareAnswer, CompareQuestion } from '../../engine/questions/compare/compare-terms.ts'
import { usualAir } from '../../engine/scene/air.ts'
import type { Letter } from '../compare-sent/letter.ts'
import { type KeptTest, pairOf } from './kept-test.ts'

/** A test whose verdict is told. */
export type ToldTest = { test: KeptTest; question: CompareQuestion; answer: Pick<CompareAnswer, 'bands' | 'detail'> }

/**
 * What a link tells a client of a test.
 *
 * @param note  what the sender adds, '' for nothing
 * @param date  day on which the link is made, as 2026-05-01
 * @returns  undefined for a test without distances
 */
export function letterOf({ test, question, answer }: ToldTest, note: string, date: string): Letter | undefined {
  const { geometry, wallsAreEntered, bringTogether, air = usualAir } = question
  if (!geometry) return undefined
  return {
    test: {
      bands: answer.bands.map(({ levels, difference }) => (levels && difference ? { levels, difference } : null)),
      detail: answer.detail,
      geometry,
      wallsAreEntered,
      bringTogether,
      air,
    },
    isPractice: test.steps.sound.practice !== null,
    isMatched: pairOf(test.steps.match) !== undefined,
    hasQuiet: pairOf(test.steps.quiet) !== undefined,
    isCorrected: { front: test.microphones.front !== null, behind: test.microphones.behind !== null },
    date,
    note,
  }
}
