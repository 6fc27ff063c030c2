import type { DistanceDatum } from '../../acoustics/index.ts'
import type { WalkAnswer, WallEffect } from '../../engine/questions/walk/walk.ts'
import { trebleHz } from '../../engine/scene/third-octaves.ts'
import type { LengthUnit } from '../../state/preferences.ts'
import { directionWords, placeWord } from '../../words/directions.ts'
import { aboutFrequencyText } from '../../words/frequencies.ts'
import { lengthText } from '../../words/lengths.ts'
import { downWords, quieterWords } from '../../words/levels.ts'
import { percentText } from '../../words/numbers.ts'
import * as say from './walk-round.messages.ts'

/** Whether the treble here is an estimate: behind the front face, where the model of the box leaves its trusted range below it. */
export const trebleIsEstimate = (answer: WalkAnswer, angleDeg: number): boolean =>
  Math.abs(angleDeg) > 90 && answer.estimateFromHz <= trebleHz.from

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

/**
 * What the wall did, in front and here: its deepest cut and its highest lift in the bass. Says nothing of a change that is
 * smaller than 3 dB.
 */
export function wallSentence({ wall }: WalkAnswer, wallM: number, units: LengthUnit): string {
  if (!wall) return ''
  const distance = lengthText(wallM, units)
  const [front, here] = [wallDoes(wall.front), wallDoes(wall.here)]
  if (!front && !here) return say.wallChangesNothing({ distance })
  if (front === here) return say.wallAlike({ distance, does: front })
  if (!front) return say.wallHereAlone({ distance, here })
  return say.wallInFrontAndHere({ distance, front, here: here || say.changesLittle() })
}

/** 'cuts 72 Hz by 9 dB and lifts 140 Hz by 5 dB', or '' if it does neither. */
function wallDoes({ cutHz, cutDb, liftHz, liftDb }: WallEffect): string {
  const cut = cutDb <= -2.5 ? say.wallCuts({ frequency: aboutFrequencyText(cutHz), decibels: Math.round(-cutDb) }) : ''
  const lift =
    liftDb >= 2.5 ? say.wallLifts({ frequency: aboutFrequencyText(liftHz), decibels: Math.round(liftDb) }) : ''
  return cut && lift ? say.wallCutsAndLifts({ cut, lift }) : cut || lift
}

/** What the hall did to the difference between here and in front, against the same places outdoors. */
export function hallSentence({ bassDb, trebleDb, outdoors }: WalkAnswer): string {
  if (!outdoors) return ''
  const [bassMoreDb, trebleMoreDb] = [Math.round(bassDb - outdoors.bassDb), Math.round(trebleDb - outdoors.trebleDb)]
  const words = { treble: downWords(outdoors.trebleDb), bass: downWords(outdoors.bassDb) }
  if (Math.abs(trebleMoreDb) < 2 && Math.abs(bassMoreDb) < 2) return say.hallChangesLittle(words)
  if (trebleMoreDb >= 2) return say.hallCarriesTreble(words)
  return say.hallChangesBass({ ...words, decibels: Math.abs(bassMoreDb) })
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

/** What the choice of the measuring point changes, with numbers. */
export function datumSentence(answer: WalkAnswer, datum: DistanceDatum, units: LengthUnit): string {
  const nearest = datum === 'nearest-face' ? answer : answer.byOtherDatum
  const front = datum === 'front-face' ? answer : answer.byOtherDatum
  const distances = say.bothDistances({
    front: lengthText(front.distanceM, units),
    nearest: lengthText(nearest.distanceM, units),
  })
  const bass = { front: downWords(front.bassDb), nearest: downWords(nearest.bassDb) }
  const levels = bass.front === bass.nearest ? say.bassByEither({ bass: bass.front }) : say.bassByEach(bass)
  const path = Math.abs(nearest.pathDb) < 0.05 ? '0' : Math.abs(nearest.pathDb).toFixed(1)
  return `${distances} ${levels} ${say.pathAlone({ decibels: path })}`
}
