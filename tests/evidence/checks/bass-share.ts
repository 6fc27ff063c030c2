import { readFileSync } from 'node:fs'
import columnOnBase from '../../../content/gear/column-on-base.json' with { type: 'json' }
import compactTwoWay from '../../../content/gear/compact-two-way.json' with { type: 'json' }
import topOverSub from '../../../content/gear/top-over-sub.json' with { type: 'json' }
import {
  aWeightingDb,
  bandLevelsDb,
  bassShare,
  type Loudness,
  loudnessBands,
  loudnessBelowHz,
  makeAir,
  placePoint,
  type Rig,
  rigField,
  thirdOctaveBands,
  weightedLevelDb,
  zwickerLoudness,
} from '../../../src/acoustics/index.ts'
import { earHeightM } from '../../../src/engine/scene/scene-terms.ts'
import { addSolvedCabinets, solvedModel } from '../../../src/engine/scene/solved-gear.ts'
import type { Check, CheckGroup } from '../check.ts'

const distanceM = 2.5
const noiseBands = thirdOctaveBands(25, 20000)

/** Band levels of pink noise in front and behind, dB, so that the front has 0 dB(A). */
function levelsReFront(rig: Rig): { front: number[]; behind: number[] } {
  addSolvedCabinets(readFileSync(`content/gear/solved/${rig.name}.bin`))
  const field = rigField(rig, makeAir(), solvedModel, { xM: 0, yM: earHeightM, zM: 4 })
  const levelsAt = (angleRad: number) => {
    const point = placePoint({ angleRad, distanceM }, earHeightM)
    return bandLevelsDb((frequencyHz) => field.transferAt(point, frequencyHz), noiseBands)
  }
  const front = levelsAt(0)
  const zeroDb = weightedLevelDb(front, noiseBands, aWeightingDb)
  const heard = (levels: Float64Array) =>
    Array.from(levels.subarray(0, loudnessBands.length), (level) => level - zeroDb)
  return { front: heard(front), behind: heard(levelsAt(Math.PI)) }
}

const checksOf = (rig: Rig & { title: string }): Check[] => {
  let known: ReturnType<typeof levelsReFront> | undefined
  const loudness = (place: 'front' | 'behind', frontDbA: number): Loudness => {
    known ??= levelsReFront(rig)
    return zwickerLoudness(
      known[place].map((level) => level + frontDbA),
      'free',
    )
  }
  return [65, 80, 95].flatMap((frontDbA): Check[] => {
    const shared = {
      source: 'iso-532-1',
      place:
        'the standard’s method on levels that this site predicts; that the sentence holds for them is our claim, no outside value',
      input: `pink noise outdoors, ${distanceM} m from the middle of the front, ${frontDbA} dB(A) in front`,
      expected: 0,
      tolerance: 0,
      toleranceReason: 'the sentence says more, or not more; the limit may not be passed',
    }
    return [
      {
        ...shared,
        id: `bass-share-behind-${rig.name}-${frontDbA}`,
        quantity: `${rig.title}: bass share behind less bass share in front`,
        unit: '1',
        relation: 'at least',
        computed: () =>
          bassShare(loudness('behind', frontDbA).specific) - bassShare(loudness('front', frontDbA).specific),
      },
      {
        ...shared,
        id: `bass-loudness-behind-${rig.name}-${frontDbA}`,
        quantity: `${rig.title}: loudness of the bass behind less that in front`,
        unit: 'sone',
        relation: 'at most',
        computed: () => loudnessBelowHz(loudness('behind', frontDbA)) - loudnessBelowHz(loudness('front', frontDbA)),
      },
    ]
  })
}

/** What rises behind is the bass's share of the loudness, not the loudness of the bass. */
export const bassShareChecks: CheckGroup = {
  title: 'Bass share in front and behind',
  checks: [topOverSub, columnOnBase, compactTwoWay].flatMap((rig) => checksOf(rig as Rig & { title: string })),
}
