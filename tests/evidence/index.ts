import type { CheckGroup } from './check.ts'
import { acousticCentreChecks } from './checks/acoustic-centre.ts'
import { absorptionChecks, absorptionOctaveChecks, airChecks } from './checks/air.ts'
import { bandChecks, bandFilterChecks } from './checks/bands.ts'
import { bassCutChecks } from './checks/bass-cut.ts'
import { bassShareChecks } from './checks/bass-share.ts'
import { blindComparisonChecks } from './checks/blind-comparison.ts'
import { boundaryElementChecks } from './checks/boundary-elements.ts'
import { columnChecks, rowChecks } from './checks/column.ts'
import { crowdChecks } from './checks/crowd.ts'
import { equalLoudnessChecks } from './checks/equal-loudness.ts'
import { exposureChecks } from './checks/exposure.ts'
import { groundChecks } from './checks/ground.ts'
import { hallChecks } from './checks/hall.ts'
import { hallBalanceChecks } from './checks/hall-balance.ts'
import { hornChecks } from './checks/horn.ts'
import { hornMouthChecks } from './checks/horn-mouth.ts'
import { interferenceChecks } from './checks/interference.ts'
import { lineChecks } from './checks/line.ts'
import { loudnessChecks } from './checks/loudness.ts'
import { massLawChecks } from './checks/mass-law.ts'
import { neighbourShadowChecks } from './checks/neighbour-shadow.ts'
import { pageNumberChecks } from './checks/page-numbers.ts'
import { pistonChecks } from './checks/piston.ts'
import { planChecks } from './checks/plan.ts'
import { portChecks } from './checks/port.ts'
import { realBoxChecks } from './checks/real-box.ts'
import { recordingChecks } from './checks/recordings.ts'
import { rigChecks } from './checks/rig.ts'
import { sharpnessChecks } from './checks/sharpness.ts'
import { signalChecks } from './checks/signals.ts'
import { specialChecks } from './checks/special.ts'
import { speechChecks } from './checks/speech.ts'
import { sphereChecks } from './checks/sphere.ts'
import { sphereRoundChecks } from './checks/sphere-round.ts'
import { steeredPairChecks } from './checks/steered-pairs.ts'
import { steeredRowChecks } from './checks/steered-rows.ts'
import { sweepChecks } from './checks/sweep.ts'
import { trebleBehindChecks } from './checks/treble-behind.ts'
import { wallChecks } from './checks/walls.ts'
import { weightingChecks } from './checks/weighting.ts'

/** Every group of checks, in the order of the evidence page. A test holds that no group of the checks folder is missing. */
export const checkGroups: CheckGroup[] = [
  airChecks,
  absorptionChecks,
  absorptionOctaveChecks,
  sphereChecks,
  sphereRoundChecks,
  boundaryElementChecks,
  trebleBehindChecks,
  portChecks,
  pistonChecks,
  lineChecks,
  rowChecks,
  columnChecks,
  hornChecks,
  hornMouthChecks,
  rigChecks,
  realBoxChecks,
  interferenceChecks,
  wallChecks,
  groundChecks,
  acousticCentreChecks,
  hallChecks,
  hallBalanceChecks,
  massLawChecks,
  planChecks,
  crowdChecks,
  steeredPairChecks,
  steeredRowChecks,
  neighbourShadowChecks,
  bandChecks,
  bandFilterChecks,
  signalChecks,
  recordingChecks,
  speechChecks,
  sweepChecks,
  weightingChecks,
  equalLoudnessChecks,
  loudnessChecks,
  sharpnessChecks,
  bassShareChecks,
  bassCutChecks,
  blindComparisonChecks,
  pageNumberChecks,
  exposureChecks,
  specialChecks,
]
