import type { FoolingTake } from '../../engine/questions/compare/practice-terms.ts'
import { levelText } from '../../words/levels.ts'
import { practiceKey } from '../compare/describe-take.ts'
import * as say from './guess-slips.messages.ts'

/** How far a slip puts the answer off, behind less front, dB; above nought: too much behind. */
export type Slip = { name: FoolingTake; bassDb: number; trebleDb: number }
export type SlipsGuess = { bassDb: number; trebleDb: number }

/** Misses up to this count as right, dB. */
const closeDb = 2

const worst = (slips: readonly Slip[], range: keyof SlipsGuess): Slip => {
  const [first, ...others] = slips
  if (!first) throw new RangeError('slips is empty; allowed is one or more')
  return others.reduce((most, slip) => (Math.abs(slip[range]) > Math.abs(most[range]) ? slip : most), first)
}

/** How both guesses lay, and what that does to the answer. `fairBassDb`: what a fair test finds, behind less front, dB. */
export function guessSlipsVerdict(guess: SlipsGuess, slips: readonly Slip[], fairBassDb: number): string {
  const [bass, treble] = [worst(slips, 'bassDb'), worst(slips, 'trebleDb')]
  const bassDb = Math.abs(bass.bassDb)
  const trebleDb = Math.abs(treble.trebleDb)
  const words = [
    lesson(Math.round(guess.bassDb - bassDb), Math.round(guess.trebleDb - trebleDb)),
    say.answer({
      bass: levelText(bassDb),
      bassCause: say.cause({ cause: practiceKey(bass.name) }),
      treble: levelText(trebleDb),
      trebleCause: say.cause({ cause: practiceKey(treble.name) }),
    }),
  ]
  // Only where it is so: the sign of the answer turns.
  if (fairBassDb < 0 && fairBassDb + bass.bassDb > 0)
    words.push(say.effect({ fair: levelText(-fairBassDb), bass: levelText(bassDb) }))
  return words.join(' ')
}

function lesson(bassMissDb: number, trebleMissDb: number): string {
  const low = [bassMissDb, trebleMissDb].filter((missDb) => missDb < -closeDb).length
  if (low > 0) return say.low({ both: low === 2 })
  return bassMissDb > closeDb || trebleMissDb > closeDb ? say.high() : say.close()
}
