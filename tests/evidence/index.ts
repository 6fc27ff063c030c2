import type { CheckGroup } from './check.ts'
import { absorptionChecks, absorptionOctaveChecks, airChecks } from './checks/air.ts'
import { bandChecks, bandFilterChecks } from './checks/bands.ts'
import { boundaryElementChecks } from './checks/boundary-elements.ts'
import { columnChecks, rowChecks } from './checks/column.ts'
import { hornChecks } from './checks/horn.ts'
import { hornMouthChecks } from './checks/horn-mouth.ts'
import { interferenceChecks } from './checks/interference.ts'
import { lineChecks } from './checks/line.ts'
import { pistonChecks } from './checks/piston.ts'
import { rigChecks } from './checks/rig.ts'
import { signalChecks } from './checks/signals.ts'
import { specialChecks } from './checks/special.ts'
import { sphereChecks } from './checks/sphere.ts'
import { weightingChecks } from './checks/weighting.ts'

/** Every group of checks, in the order of the evidence page. A test holds that no group of the checks folder is missing. */
export const checkGroups: CheckGroup[] = [
  airChecks,
  absorptionChecks,
  absorptionOctaveChecks,
  sphereChecks,
  boundaryElementChecks,
  pistonChecks,
  lineChecks,
  rowChecks,
  columnChecks,
  hornChecks,
  hornMouthChecks,
  rigChecks,
  interferenceChecks,
  bandChecks,
  bandFilterChecks,
  signalChecks,
  weightingChecks,
  specialChecks,
]
