import type { WalkAnswer } from '../../engine/questions/walk/walk.ts'
import type { LengthUnit } from '../../state/preferences.ts'
import { directionWords, placeWord } from '../../words/directions.ts'
import { lengthText } from '../../words/lengths.ts'
import { downWords, quieterWords } from '../../words/levels.ts'
import { percentText } from '../../words/numbers.ts'
import { trebleIsEstimate } from './treble-estimate.ts'
import * as say from './walk-round.messages.ts'

/** The one live sentence: where you are, and what reaches you against the front at the same distance. */
export function walkSentence(answer: WalkAnswer, angleDeg: number, units: LengthUnit): string {
  const place = { distance: lengthText(answer.distanceM, units), where: directionWords(angleDeg) }
  const bassDb = Math.round(answer.bassDb)
  const trebleDb = Math.round(answer.trebleDb)
  if (bassDb === 0 && trebleDb === 0) return say.asLoudAsInFront(place)
  const estimate = trebleIsEstimate(answer, angleDeg) && trebleDb !== 0
  const levels = { bass: quieterWords(bassDb), same: bassDb === 0, treble: quieterWords(trebleDb), estimate }
  return `${say.bassAndTreble({ ...place, ...levels })} ${shareSentence(answer)}`
}

/** How much of the loudness is bass here and in front; "yet" only where the bass is quieter and its share larger all the same. */
export function shareSentence({ bassDb, heard }: Pick<WalkAnswer, 'bassDb' | 'heard'>): string {
  const [here, front] = [percentText(heard.here.bassShare), percentText(heard.front.bassShare)]
  if (here === front) return say.shareAsInFront({ here })
  if (heard.here.bassShare < heard.front.bassShare) return say.shareSmaller({ here, front })
  return say.shareLarger({ here, front, quieter: Math.round(bassDb) < 0 })
}

/** What the lines show, in a few words: 'Behind: bass 2 dB down, treble 23 dB down'. */
export const differenceWords = (answer: WalkAnswer, angleDeg: number): string =>
  say.difference({
    place: placeWord(angleDeg),
    bass: downWords(answer.bassDb),
    treble: downWords(answer.trebleDb),
    estimate: trebleIsEstimate(answer, angleDeg),
  })

/** The number at the listener: 'treble about 29 dB down'. */
export const trebleWords = (answer: WalkAnswer, angleDeg: number): string =>
  say.trebleHere({ treble: downWords(answer.trebleDb), estimate: trebleIsEstimate(answer, angleDeg) })

/**
 * The finding at this place: the figure's own where the treble is 6 dB or more below the bass; what the hall brings back,
 * where that is 6 dB or more; that little differs.
 */
export function walkFinding({ bassDb, trebleDb, outdoors }: WalkAnswer, shadow: string): string {
  if (outdoors && trebleDb - outdoors.trebleDb >= 6) return say.findingHall()
  return trebleDb - bassDb <= -6 ? shadow : say.findingAlike()
}
