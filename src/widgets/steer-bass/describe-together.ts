import type { SteerMerits, SteerQuestion, SteerSet, SteerTogether } from '../../engine/questions/steer/steer-terms.ts'
import type { LengthUnit } from '../../state/preferences.ts'
import { fineLengthText } from '../../words/lengths.ts'
import { signedLevelText } from '../../words/levels.ts'
import { delayText } from '../../words/times.ts'
import { othersNames, promisedText } from './describe-steer-bass.ts'

/** What the boxes do in each other's way, against each of them alone, and what a trim brings. */
export function togetherSentence(
  result: SteerTogether,
  { surroundings, set }: Pick<SteerQuestion, 'surroundings' | 'set'>,
  units: LengthUnit,
): string {
  if (result.kind === 'points')
    return 'Points have no bodies: none stands in another’s way. Choose boxes to solve them together.'
  if (result.kind === 'too-close')
    return `Two boxes nearly touch, too close to be solved. Let them touch, or leave ${fineLengthText(result.neededM, units)} or more.`
  const { alone, together, trimmed } = result
  const where = surroundings.kind === 'hall' ? 'Solved together outdoors, without the hall,' : 'Solved together,'
  return `${where} the set ${againstAlone(alone.merits, together.merits)}. ${trimWords(together, trimmed, set)}`
}

function againstAlone(alone: SteerMerits, together: SteerMerits): string {
  const [before, after] = [promisedText(alone.rejectionDb), promisedText(together.rejectionDb)]
  const keeps =
    before === after
      ? `keeps ${after} from the back, as with each box alone`
      : `keeps ${after} from the back, not ${before.replace(/ dB$/, '')}`
  const more = Math.round(together.frontLossDb) - Math.round(alone.frontLossDb)
  const cost =
    more === 0 ? 'costs no more in front' : `costs ${Math.abs(more)} dB ${more > 0 ? 'more' : 'less'} in front`
  return `${keeps}, and ${cost}`
}

type Candidate = { set: SteerSet; merits: SteerMerits }

function trimWords(now: Candidate, trimmed: Candidate, { arrangement }: SteerSet): string {
  const gainDb = Math.round(trimmed.merits.rejectionDb) - Math.round(now.merits.rejectionDb)
  if (gainDb <= 0) return 'No delay or level near these keeps more.'
  const changes = changedParts(now.set, trimmed.set)
  const more = Math.round(trimmed.merits.frontLossDb) - Math.round(now.merits.frontLossDb)
  const paid =
    more === 0 ? '' : more > 0 ? `, for another ${more} dB in front` : `, and the front gets ${-more} dB back`
  return `It fits better with ${changes.join(' and ')} for ${othersNames[arrangement]}: ${promisedText(trimmed.merits.rejectionDb)}${paid}.`
}

function changedParts(now: SteerSet, trimmed: SteerSet): string[] {
  const delay = delayText(trimmed.delayS)
  const level = signedLevelText(trimmed.levelDb, 1)
  return [
    ...(delay === delayText(now.delayS) ? [] : [delay]),
    ...(level === signedLevelText(now.levelDb, 1) ? [] : [level]),
  ]
}
