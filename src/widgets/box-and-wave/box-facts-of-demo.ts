import { type BoxFact, type BoxFactName, boxFacts } from '../../engine/box-facts.ts'
import { demoBox } from './demo-boxes.ts'

let kept: Record<BoxFactName, BoxFact> | undefined

/** The facts of the demo top and sub, computed once a build. */
export async function boxFactsOfDemo(): Promise<Record<BoxFactName, BoxFact>> {
  kept ??= boxFacts(await demoBox('top'), await demoBox('sub'))
  return kept
}
