import type { CheckGroup } from './check.ts'
import { absorptionChecks, absorptionOctaveChecks, airChecks } from './checks/air.ts'
import { bandChecks, bandFilterChecks } from './checks/bands.ts'
import { interferenceChecks } from './checks/interference.ts'
import { signalChecks } from './checks/signals.ts'
import { weightingChecks } from './checks/weighting.ts'

/** Every group of checks, in the order of the evidence page. A test holds that no group of the checks folder is missing. */
export const checkGroups: CheckGroup[] = [
  airChecks,
  absorptionChecks,
  absorptionOctaveChecks,
  interferenceChecks,
  bandChecks,
  bandFilterChecks,
  signalChecks,
  weightingChecks,
]
