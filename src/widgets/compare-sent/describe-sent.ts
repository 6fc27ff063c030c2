import { halfIntervalDb, type RangeDifference, type Verdict } from '../../acoustics/index.ts'
import { comparedRangesHz } from '../../engine/questions/compare/compare-terms.ts'
import { frequencyRangeText } from '../../words/frequencies.ts'
import { levelText } from '../../words/levels.ts'
import { roomDid } from '../compare/describe-verdict.ts'
import * as say from './sent.messages.ts'

// What a measurement means for somebody who did not make it. Front less behind inside; readers are told what is behind.

/** From so much more on the treble is missing rather than the bass, dB: no interval hides it. */
const clearlyMoreDb = 6

/** Three or four sentences without a formula: the bass, the treble, what the ear makes of both, the room. */
export function meaning(verdict: Verdict): string[] {
  const { bass, treble } = verdict
  return [
    bass ? say.bass(told(bass, comparedRangesHz.bass)) : say.bassMissing(),
    treble ? say.treble(told(treble, comparedRangesHz.treble)) : say.trebleMissing(),
    ...(seemsMore(verdict) ? [say.seems()] : []),
    say.room({ did: roomDid(verdict) }),
  ]
}

function told({ difference }: RangeDifference, range: { from: number; to: number }) {
  const whole = Math.round(difference.levelDb)
  return {
    band: frequencyRangeText(range),
    direction: whole > 0 ? ('less' as const) : whole < 0 ? ('more' as const) : ('same' as const),
    amount: levelText(Math.abs(whole)),
    // What is told is rounded to a whole dB: the interval round it holds the measured one.
    half: levelText(Math.max(1, Math.ceil(halfIntervalDb(difference) + Math.abs(difference.levelDb - whole)))),
  }
}

/** Whether more treble than bass is missing behind, whole intervals apart, and bass is not really more there. */
function seemsMore({ bass, treble, bassCause }: Verdict): boolean {
  if (!bass || !treble || bassCause === 'really-more') return false
  const apart = treble.difference.levelDb - bass.difference.levelDb
  return apart - Math.hypot(halfIntervalDb(bass.difference), halfIntervalDb(treble.difference)) >= clearlyMoreDb
}
