import { divide, makeAir, spherePiston } from '../../../src/acoustics/index.ts'
import type { CheckGroup } from '../check.ts'

const air = makeAir()
const radiusM = 0.3

/** How far in front of the centre the sound seems to come from, in radii: half of how much later it is behind than in front. */
function centreInRadii(ka: number, capHalfAngleRad: number): number {
  const frequencyHz = (ka * air.speedOfSoundMps) / (2 * Math.PI * radiusM)
  const { pressureAt } = spherePiston({ radiusM, capHalfAngleRad, motion: 'radial' }, frequencyHz, air)
  const far = 1e4 * radiusM
  const { re, im } = divide(pressureAt({ xM: 0, yM: 0, zM: far }), pressureAt({ xM: 0, yM: 0, zM: -far }))
  return Math.atan2(im, re) / (2 * ka)
}

export const acousticCentreChecks: CheckGroup = {
  title: 'Where the bass of a box seems to come from',
  checks: [
    {
      id: 'acoustic-centre-small-patch',
      kind: 'law',
      quantity: 'Acoustic centre of a small patch on a hard sphere, low frequency, from the middle of the sphere',
      unit: 'radii',
      source: 'morse-ingard-theoretical-acoustics',
      place:
        'series for a small radiating patch on a hard sphere: its terms of order 0 and 1 as ka → 0 give 1 + (3/2) jka cos θ',
      input: 'ka = 0.02, patch of 0.02 rad, seen from far away in front and behind',
      expected: 1.5,
      tolerance: 0.002,
      toleranceReason:
        'terms of the order of (ka)² and of the patch’s half angle squared are left out of the limit: each 4 × 10⁻⁴',
      computed: () => centreInRadii(0.02, 0.02),
    },
  ],
}
