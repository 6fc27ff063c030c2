import type { SteerMerits, SteerQuestion, SteerSet, SteerTogether } from '../../engine/questions/steer/steer-terms.ts'
import type { LengthUnit } from '../../state/preferences.ts'
import { fineLengthText } from '../../words/lengths.ts'
import { signedLevelText } from '../../words/levels.ts'
import { listText } from '../../words/numbers.ts'
import { delayText } from '../../words/times.ts'
import { othersName, promised, promisedText, wayOf } from './describe-steer-bass.ts'
import * as say from './steer-work.messages.ts'

/** What the boxes do in each other's way, against each of them alone, and what a trim brings. */
export function togetherSentence(
  result: SteerTogether,
  { surroundings, set }: Pick<SteerQuestion, 'surroundings' | 'set'>,
  units: LengthUnit,
): string {
  if (result.kind === 'points') return say.noBodies()
  if (result.kind === 'port') return say.portBehind()
  if (result.kind === 'too-close') return say.tooClose({ gap: fineLengthText(result.neededM, units) })
  const { alone, together, trimmed } = result
  const inHall = surroundings.kind === 'hall'
  return `${againstAlone(alone.merits, together.merits, inHall)} ${trimWords(together, trimmed, set)}`
}

function againstAlone(alone: SteerMerits, together: SteerMerits, hall: boolean): string {
  const before = promised(alone.rejectionDb)
  const rejection = promisedText(together.rejectionDb)
  const more = Math.round(together.frontLossDb) - Math.round(alone.frontLossDb)
  return say.inEachOthersWay({
    hall,
    rejection,
    same: promisedText(alone.rejectionDb) === rejection,
    over: before.over,
    before: before.number,
    cost: wayOf(more),
    costDb: Math.abs(more),
  })
}

type Candidate = { set: SteerSet; merits: SteerMerits }

function trimWords(now: Candidate, trimmed: Candidate, { arrangement }: SteerSet): string {
  const gainDb = Math.round(trimmed.merits.rejectionDb) - Math.round(now.merits.rejectionDb)
  if (gainDb <= 0) return say.noTrim()
  const more = Math.round(trimmed.merits.frontLossDb) - Math.round(now.merits.frontLossDb)
  return say.trim({
    changes: listText(changedParts(now.set, trimmed.set)),
    others: othersName(arrangement),
    rejection: promisedText(trimmed.merits.rejectionDb),
    cost: wayOf(more),
    costDb: Math.abs(more),
  })
}

function changedParts(now: SteerSet, trimmed: SteerSet): string[] {
  const delay = delayText(trimmed.delayS)
  const level = signedLevelText(trimmed.levelDb, 1)
  return [
    ...(delay === delayText(now.delayS) ? [] : [delay]),
    ...(level === signedLevelText(now.levelDb, 1) ? [] : [level]),
  ]
}
