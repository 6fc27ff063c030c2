import { enclosedHere } from '../../state/enclosed-text.ts'
import { readEnclosure } from '../../state/enclosure.ts'
import { readPlan } from '../../state/plan-file.ts'
import type { Plan, PlanKnown } from '../../state/plan-schema.ts'

/** The plan that came with the page's address, or in words why it cannot be opened; undefined where none came. Never throws. */
export function sentPlan(known: PlanKnown): Plan | string | undefined {
  const read = readEnclosure(enclosedHere())
  // What cannot be read at all is told where what came with a link is shown.
  if (typeof read === 'string' || read.plan === undefined) return undefined
  return readPlan(JSON.stringify(read.plan), known)
}
