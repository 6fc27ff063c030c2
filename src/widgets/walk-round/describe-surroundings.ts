import type { WalkAnswer, WallEffect } from '../../engine/questions/walk/walk.ts'
import type { LengthUnit } from '../../state/preferences.ts'
import { aboutFrequencyText } from '../../words/frequencies.ts'
import { lengthText } from '../../words/lengths.ts'
import { downWords } from '../../words/levels.ts'
import * as say from './walk-surroundings.messages.ts'

// What a wall, the ground or the hall did. Apart from the other sentences: it is fetched when one is chosen.

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

/** What the ground did, in front and here, in the same terms: it is under both, so that mostly it does the same to both. */
export function groundSentence({ wall }: WalkAnswer): string {
  if (!wall) return ''
  const [front, here] = [wallDoes(wall.front), wallDoes(wall.here)]
  if (front === here) return front ? say.groundAlike({ does: front }) : say.groundChangesNothing()
  return say.groundInFrontAndHere({ front: front || say.changesLittle(), here: here || say.changesLittle() })
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
