import { type Check, type CheckGroup, passes } from './check.ts'

/** What one check gave: the same numbers for the test, the printed list and the page. */
export type Outcome = {
  check: Check
  computed: number
  /** computed − expected, in the check's unit. */
  error: number
  /** Part of the tolerance that the error uses up: 0 … 1 for a check that passes, above 1 for one that does not. */
  toleranceUsed: number
  passed: boolean
}

/** Runs one check. */
export function outcomeOf(check: Check): Outcome {
  const computed = check.computed()
  const error = computed - check.expected
  return { check, computed, error, toleranceUsed: toleranceUsed(check, error), passed: passes(check, computed) }
}

/** Runs every check of the groups, in order. */
export const outcomesOf = (groups: CheckGroup[]): Outcome[] => groups.flatMap((group) => group.checks.map(outcomeOf))

/** An error on the allowed side of a limit uses nothing; a tolerance of zero is used up by any other error. */
function toleranceUsed({ relation = 'equal', tolerance }: Check, error: number): number {
  const wrong =
    relation === 'at most' ? Math.max(0, error) : relation === 'at least' ? Math.max(0, -error) : Math.abs(error)
  return wrong === 0 ? 0 : wrong / tolerance
}
