import {
  bassShareUpToHz,
  contourLevelDb,
  frontPoint,
  loudnessLevelPhon,
  type Rig,
  sonesFromPhons,
} from '../../../acoustics/index.ts'
import { usualAir } from '../../scene/air.ts'
import { liftDb } from '../../scene/free-field.ts'
import { heard } from '../../scene/heard.ts'
import { earHeightM, usualDbA } from '../../scene/scene-terms.ts'
import { levelsAt } from '../../scene/standing-rig.ts'
import { heardBands } from '../../scene/third-octaves.ts'
import { decibels, type Fact, metres, percent, sones, times } from '../fact.ts'
import { walkAnswer, walkScene } from '../walk/walk.ts'

/** The two tones of the guess: equally loud before both are turned down. */
export const guessedTones = { lowHz: 50, highHz: 1000, phon: 60, dropDb: 10 } as const

/** From one line of equal loudness that the figure draws to the next, phon. */
const drawnStepPhon = 20

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

/** Loudness of the bass before and after all third octaves of the bass share are turned down, sones. */
export type BassCut = { fromSones: number; toSones: number }

/**
 * What is left of the bass's loudness when the bass is turned down and the rest stays.
 *
 * @param levelsDb  levels of heardBands, dB re 20 µPa
 * @param cutDb     0 or more
 * @throws RangeError  as heard
 */
export function bassTurnedDown(levelsDb: ArrayLike<number>, cutDb: number): BassCut {
  const cut = Array.from(levelsDb, (level, index) =>
    (heardBands[index]?.nominalHz as number) <= bassShareUpToHz ? level - cutDb : level,
  )
  return { fromSones: heard(levelsDb).heard.bassSones, toSones: heard(cut).heard.bassSones }
}

const comparedAtM = 2.5

/** Pink noise in front of a rig in free air where the lesson compares, the rig set to usualDbA: levels of heardBands, dB re 20 µPa. */
export function frontLevelsDb(rig: Rig): Float64Array {
  const standing = walkScene({ rig, air: usualAir })
  const lift = liftDb(standing.free, usualDbA)
  return levelsAt(standing, frontPoint(comparedAtM, earHeightM)).map((level) => level + lift)
}

/**
 * The numbers of the lesson on hearing for one rig: free air, pink noise, straight behind and in front, 2.5 m from the middle
 * of the front face, the rig set to usualDbA.
 *
 * @throws RangeError for a rig that is not sound
 */
export function earFacts(rig: Rig) {
  const { lowHz, highHz, phon, dropDb } = guessedTones
  const low = turnedDown(lowHz, phon, dropDb)
  const high = turnedDown(highHz, phon, dropDb)
  const { here, front } = walkAnswer({
    rig,
    place: { angleRad: Math.PI, distanceM: comparedAtM },
    datum: 'front-face',
    referenceDbA: usualDbA,
    air: usualAir,
  }).heard
  const cut = bassTurnedDown(frontLevelsDb(rig), dropDb)
  return {
    'cut-bass-from': sones(cut.fromSones),
    'cut-bass-to': sones(cut.toSones),
    'cut-bass-left': times(cut.toSones / cut.fromSones),
    'low-level': decibels(low.levelDb),
    'high-level': decibels(high.levelDb),
    'low-part-left': times(low.toSones / low.fromSones),
    'high-part-left': times(high.toSones / high.fromSones),
    'contour-step-50': decibels(contourLevelDb(phon, lowHz) - contourLevelDb(phon - drawnStepPhon, lowHz)),
    'compared-at': metres(comparedAtM),
    'share-behind': percent(here.bassShare),
    'share-front': percent(front.bassShare),
    'bass-sones-behind': sones(here.bassSones),
    'bass-sones-front': sones(front.bassSones),
    'sones-behind': sones(here.sones),
    'sones-front': sones(front.sones),
    'a-weighted-drop': decibels(front.aWeightedDb - here.aWeightedDb),
  } satisfies Record<string, Fact>
}
