import { readFileSync } from 'node:fs'
import topOverSub from '../../../content/gear/top-over-sub.json' with { type: 'json' }
import type { Rig } from '../../../src/acoustics/index.ts'
import { bassTurnedDown, frontLevelsDb } from '../../../src/engine/questions/ear/ear-facts.ts'
import { addSolvedCabinets } from '../../../src/engine/scene/solved-gear.ts'
import { heardBands } from '../../../src/engine/scene/third-octaves.ts'
import type { Check, CheckGroup } from '../check.ts'
import digits from '../reference/bass-cut-digits.json' with { type: 'json' }

/** Levels of heardBands, from the 28 bands of the method: the two above do not count in it. */
const allBands = (levelsDb: number[]) => heardBands.map((_, index) => levelsDb[index] ?? Number.NEGATIVE_INFINITY)

const lessonLevels = () => {
  addSolvedCabinets(readFileSync(`content/gear/solved/${topOverSub.name}.bin`))
  return frontLevelsDb(topOverSub as Rig)
}

const checks: Check[] = digits.cases.flatMap(({ signal, levelsDb, fromSones, toSones }, index): Check[] => {
  // The last case is the rig of the lesson, of which the page takes its own levels and not those of the digits.
  const cut = () => bassTurnedDown(index === digits.cases.length - 1 ? lessonLevels() : allBands(levelsDb), 10)
  const shared = {
    kind: 'outside' as const,
    source: 'iso-532-1',
    place: 'clause 5 and Annex A, followed apart from the project in bass-cut-digits.py',
    input: `${signal}, ${levelsDb[16]} dB in the third octave of 1 kHz; all third octaves to 250 Hz 10 dB down`,
    unit: 'sone',
    toleranceReason: 'what the standard allows: the greater of 5 % and 0.1 sone',
  }
  const tolerance = (sones: number) => Math.max(0.05 * sones, 0.1)
  return [
    {
      ...shared,
      id: `bass-cut-before-${index + 1}`,
      quantity: 'Loudness of the bass of pink noise',
      expected: fromSones,
      tolerance: tolerance(fromSones),
      computed: () => cut().fromSones,
    },
    {
      ...shared,
      id: `bass-cut-after-${index + 1}`,
      quantity: 'The same after the bass has been turned down by 10 dB',
      expected: toSones,
      tolerance: tolerance(toSones),
      computed: () => cut().toSones,
    },
  ]
})

/** What is left of the loudness of the bass when it is turned down. */
export const bassCutChecks: CheckGroup = { title: 'The bass turned down', checks }
