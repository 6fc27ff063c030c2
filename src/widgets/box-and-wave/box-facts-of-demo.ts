import { type BoxFact, type BoxFactName, boxFacts } from '../../engine/questions/box/box-facts.ts'
import { demoBoxPattern } from '../../engine/questions/box/demo-box-pattern.ts'
import { demoBox } from './demo-boxes.ts'

let kept: Promise<Record<BoxFactName, BoxFact>> | undefined

/** The facts of the demo top and sub, computed once a build, however many numbers of a page ask at the same time. */
export function boxFactsOfDemo(): Promise<Record<BoxFactName, BoxFact>> {
  kept ??= Promise.all([demoBox('top'), demoBox('sub')]).then(([top, sub]) => boxFacts(demoBoxPattern, top, sub))
  return kept
}
