import { contourLevelDb, loudnessLevelPhon, type Rig, sonesFromPhons } from '../../../acoustics/index.ts'
import { usualAir } from '../../scene/air.ts'
import { usualDbA } from '../../scene/scene-terms.ts'
import { walkAnswer } from '../walk/walk.ts'

/** The two tones of the guess: equally loud before both are turned down. */
export const guessedTones = { lowHz: 50, highHz: 1000, phon: 60, dropDb: 10 } as const

/** What happens to a tone that is turned down. */
export type TurnedDown = { frequencyHz: number; levelDb: number; toPhon: number; fromSones: number; toSones: number }

/**
 * A tone of a given loudness level that is turned down by some decibels.
 *
 * @param frequencyHz  a nominal third octave, 20 Hz … 12.5 kHz
 * @param fromPhon     its loudness level before, 0 … 100 phon
 * @param dropDb       0 or more
 * @throws RangeError  as contourLevelDb and loudnessLevelPhon
 */
export function turnedDown(frequencyHz: number, fromPhon: number, dropDb: number): TurnedDown {
  const levelDb = contourLevelDb(fromPhon, frequencyHz)
  const toPhon = loudnessLevelPhon(levelDb - dropDb, frequencyHz)
  return { frequencyHz, levelDb, toPhon, fromSones: sonesFromPhons(fromPhon), toSones: sonesFromPhons(toPhon) }
}

/** A number of the lesson on hearing. */
export type EarFact = { value: number; unit: 'dB' | 'phon' | 'sone' | '%' | 'm' | 'times' }

export type EarFactName =
  | 'low-level'
  | 'high-level'
  | 'low-phon-after'
  | 'high-phon-after'
  | 'low-sones-before'
  | 'low-sones-after'
  | 'high-sones-after'
  | 'low-part-left'
  | 'high-part-left'
  | 'contour-step-50'
  | 'compared-at'
  | 'share-behind'
  | 'share-front'
  | 'bass-sones-behind'
  | 'bass-sones-front'
  | 'sones-behind'
  | 'sones-front'
  | 'bass-drop'
  | 'share-behind-quiet'
  | 'share-front-quiet'

const comparedAtM = 2.5

/**
 * The numbers of the lesson on hearing for one rig: outdoors, pink noise, straight behind and in front, 2.5 m from the middle
 * of the front face, the rig set to usualDbA, for the facts that end in "quiet" to 60 dB(A).
 *
 * @throws RangeError for a rig that is not sound
 */
export function earFacts(rig: Rig): Record<EarFactName, EarFact> {
  const { lowHz, highHz, phon, dropDb } = guessedTones
  const low = turnedDown(lowHz, phon, dropDb)
  const high = turnedDown(highHz, phon, dropDb)
  const at = (referenceDbA: number) =>
    walkAnswer({
      rig,
      place: { angleRad: Math.PI, distanceM: comparedAtM },
      datum: 'front-face',
      referenceDbA,
      air: usualAir,
    })
  const usual = at(usualDbA)
  const quiet = at(60)
  const { here, front } = usual.heard
  const percent = (share: number): EarFact => ({ value: 100 * share, unit: '%' })
  const sones = (value: number): EarFact => ({ value, unit: 'sone' })
  return {
    'low-level': { value: low.levelDb, unit: 'dB' },
    'high-level': { value: high.levelDb, unit: 'dB' },
    'low-phon-after': { value: low.toPhon, unit: 'phon' },
    'high-phon-after': { value: high.toPhon, unit: 'phon' },
    'low-sones-before': sones(low.fromSones),
    'low-sones-after': sones(low.toSones),
    'high-sones-after': sones(high.toSones),
    'low-part-left': { value: low.toSones / low.fromSones, unit: 'times' },
    'high-part-left': { value: high.toSones / high.fromSones, unit: 'times' },
    'contour-step-50': { value: contourLevelDb(phon, lowHz) - contourLevelDb(phon - 10, lowHz), unit: 'dB' },
    'compared-at': { value: comparedAtM, unit: 'm' },
    'share-behind': percent(here.bassShare),
    'share-front': percent(front.bassShare),
    'bass-sones-behind': sones(here.bassSones),
    'bass-sones-front': sones(front.bassSones),
    'sones-behind': sones(here.sones),
    'sones-front': sones(front.sones),
    'bass-drop': { value: -usual.bassDb, unit: 'dB' },
    'share-behind-quiet': percent(quiet.heard.here.bassShare),
    'share-front-quiet': percent(quiet.heard.front.bassShare),
  }
}
