import { decibels, type Fact, factsBy, hertz, needed } from '../fact.ts'
import type { SteerMerits } from './steer-terms.ts'

/** Figures of merit by the words that name them in facts. */
const merits = { rejection: 'rejectionDb', loss: 'frontLossDb', cut: 'behindCutDb' } as const
export type Merit = keyof typeof merits

/** The figures of merit of a case that the words name: `case-rejection`, `case-loss`, `case-cut`. */
export const meritFacts = <Case extends string, Named extends Merit>(
  name: Case,
  of: Pick<SteerMerits, 'rejectionDb' | 'frontLossDb' | 'behindCutDb'>,
  ...named: Named[]
) => factsBy(named.map((merit): [`${Case}-${Named}`, Fact] => [`${name}-${merit}`, decibels(of[merits[merit]])]))

/** The usable band of a case: `case-usable-from`, `case-usable-to`. */
export function usableFacts<Case extends string>(name: Case, { usable }: SteerMerits) {
  const { fromHz, toHz } = needed(usable, `a usable band of ${name}`)
  return factsBy<`${Case}-${'usable-from' | 'usable-to'}`>([
    [`${name}-usable-from`, hertz(fromHz)],
    [`${name}-usable-to`, hertz(toHz)],
  ])
}
