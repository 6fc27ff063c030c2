import { type ComparedBand, levelDifference, rangeDifference, type SweptLevels } from '../../../acoustics/index.ts'
import { bassHz, trebleHz } from '../../scene/third-octaves.ts'
import { offsetOf } from './compare.ts'
import type { BoxOrHallAnswer, BoxOrHallQuestion, SweptRange } from './sweep-terms.ts'

/**
 * Box or hall: front less behind as it arrives, and as the box alone sends it, freed of both microphones as in the other steps.
 *
 * @throws RangeError as levelDifference
 */
export function boxOrHallAnswer({ front, behind, match, microphones }: BoxOrHallQuestion): BoxOrHallAnswer {
  const offset = match && offsetOf(match, microphones)
  const compared = (part: keyof Pick<SweptLevels, 'whole' | 'box'>): ComparedBand[] =>
    levelDifference({
      front: { levels: front[part], ...(microphones?.front && { microphone: microphones.front }) },
      behind: { levels: behind[part], ...(microphones?.behind && { microphone: microphones.behind }) },
      ...(offset && { offset }),
    })
  const [whole, box] = [compared('whole'), compared('box')]
  return {
    whole,
    box,
    validFromHz: Math.max(front.validFromHz, behind.validFromHz),
    treble: rangeOf(whole, box, trebleHz),
    bass: rangeOf(whole, box, bassHz),
    wholeBass: rangeDifference(whole, bassHz),
  }
}

type Range = { from: number; to: number }

function rangeOf(whole: readonly ComparedBand[], box: readonly ComparedBand[], range: Range): SweptRange | null {
  const boxRange = rangeDifference(box, range)
  // Where only the whole is told, it would be compared with bands that the box does not have.
  const same = whole.map((band, i) => (box[i]?.levels ? band : { ...band, levels: null, difference: null }))
  const wholeRange = rangeDifference(same, range)
  if (!boxRange || !wholeRange) return null
  const added = (place: 'front' | 'behind') => sumDb(same, place, range) - sumDb(box, place, range)
  return { box: boxRange, whole: wholeRange, addedDb: { front: added('front'), behind: added('behind') } }
}

/** Level of the bands of a range together that are told, dB. */
const sumDb = (bands: readonly ComparedBand[], place: 'front' | 'behind', { from, to }: Range): number =>
  10 *
  Math.log10(
    bands
      .filter(({ nominalHz }) => nominalHz >= from && nominalHz <= to)
      .reduce((sum, { levels }) => sum + (levels ? 10 ** (levels[place].levelDb / 10) : 0), 0),
  )
