import { readFileSync } from 'node:fs'
import topOverSub from '../../../content/gear/top-over-sub.json' with { type: 'json' }
import { allowedExposureH } from '../../../src/acoustics/hearing/exposure.ts'
import type { Rig } from '../../../src/acoustics/index.ts'
import { hallAnswer } from '../../../src/engine/questions/hall/hall-parts.ts'
import { airOf } from '../../../src/engine/scene/air.ts'
import { tablePlace } from '../../../src/engine/scene/demo-hall.ts'
import { exposureAt } from '../../../src/engine/scene/exposure-at.ts'
import { aWeightedAtReferenceDb, freeField } from '../../../src/engine/scene/free-field.ts'
import { demoHallStates } from '../../../src/engine/scene/hall-content.ts'
import { hallLevelsAt, hallRig } from '../../../src/engine/scene/hall-rig.ts'
import { addSolvedCabinets } from '../../../src/engine/scene/solved-gear.ts'
import type { Check, CheckGroup } from '../check.ts'
import weighting from '../reference/frequency-weighting.json' with { type: 'json' }

/** Rows of Table 1-1 as printed, in seconds. */
const printedS: [levelDbA: number, seconds: number][] = [
  [80, 25 * 3600 + 24 * 60],
  [85, 8 * 3600],
  [88, 4 * 3600],
  [91, 2 * 3600],
  [94, 3600],
  [95, 47 * 60 + 37],
  [97, 30 * 60],
  [100, 15 * 60],
  [120, 9],
]

/** The places of the hall's figure as it first shows, and how loud the rig is set 4 m in front in free air, dB(A). */
const shownPlaces = [
  { name: 'here', at: tablePlace, setDbA: 85 },
  { name: 'front', at: { xM: 0, zM: 2.5 }, setDbA: 85 },
  { name: 'here', at: tablePlace, setDbA: 100 },
] as const

/** A-weighted level of third octaves by the standard's printed table, 25 Hz to 16 kHz, dB. */
const printedDbA = (levelsDb: ArrayLike<number>): number => {
  const rows = weighting.rows.filter(({ nominalHz }) => nominalHz >= 25 && nominalHz <= 16000)
  return (
    10 * Math.log10(rows.reduce((sum, { aDb }, index) => sum + 10 ** (((levelsDb[index] as number) + aDb) / 10), 0))
  )
}

const rig = topOverSub as Rig
const hall = (demoHallStates[0] as (typeof demoHallStates)[number]).design

const atPlaces: Check[] = shownPlaces.map(({ name, at, setDbA }) => {
  const levelsAt = () => {
    addSolvedCabinets(readFileSync(`content/gear/solved/${rig.name}.bin`))
    const air = airOf()
    const lift = setDbA - aWeightedAtReferenceDb(freeField(rig, air))
    return hallLevelsAt(hallRig(rig, hall, air), at).total.map((level) => level + lift)
  }
  return {
    id: `exposure-at-${name}-${setDbA}`,
    kind: 'method',
    quantity: `Longest time a day ${name === 'here' ? 'at the tables' : 'in front'}, as the hall’s figure tells it, re NIOSH’s at the level there`,
    unit: '1',
    source: 'niosh-98-126',
    place: 'section 1.1: 8 h / 2^((L − 85)/3), at the level added up by the table of IEC 61672-1',
    input: `pink noise set to ${setDbA} dB(A) 4 m in front in free air, timber hall`,
    expected: 1,
    tolerance: 0.13,
    toleranceReason:
      'the figure tells the time at the level as it prints it, in whole decibels: half a decibel is 12 % of the time',
    computed: () => {
      const answer = hallAnswer({ rig, hall, place: tablePlace, bandHz: 2000, referenceDbA: setDbA })
      const told = answer.heard?.[name]
      return told ? exposureAt(told).hours / (8 / 2 ** ((printedDbA(levelsAt()) - 85) / 3)) : Number.NaN
    },
  }
})

/** The longest time a day at a level against the printed table. */
export const exposureChecks: CheckGroup = {
  title: 'Longest time at a level',
  checks: [
    ...printedS.map(
      ([levelDbA, seconds]): Check => ({
        id: `exposure-${levelDbA}`,
        kind: 'outside',
        quantity: `Longest time a day at ${levelDbA} dB(A)`,
        unit: 's',
        source: 'niosh-98-126',
        place: 'Table 1-1',
        input: `${levelDbA} dB(A)`,
        expected: seconds,
        tolerance: levelDbA === 80 ? 60 : 1,
        toleranceReason: levelDbA === 80 ? 'this row is printed to the minute' : 'printed to the second',
        computed: () => 3600 * allowedExposureH(levelDbA),
      }),
    ),
    ...atPlaces,
  ],
}
