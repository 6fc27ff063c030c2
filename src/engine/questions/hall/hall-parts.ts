import { decayTimeS, groupLevelDb, levelDb, type PlanPoint, type Rig } from '../../../acoustics/index.ts'
import { airOf, type InAir } from '../../scene/air.ts'
import { liftDb, passbandDb } from '../../scene/free-field.ts'
import { hallFrontM, hallLevelsAt, hallRig, type PlaceLevels, requireHallPlace } from '../../scene/hall-rig.ts'
import { type HallDesign, hallOf } from '../../scene/hall-scene.ts'
import { type Heard, heardPlaces } from '../../scene/heard.ts'
import { bassHz, heardBands, spectrumBands, spectrumOf, trebleHz } from '../../scene/third-octaves.ts'
import {
  type BandShares,
  bandShares,
  equalDistancesM,
  lateLevelsDb,
  levelsOfBands,
  octaveAbout,
  offWallM,
} from './hall-balance.ts'

/** A rig in a hall and a listener at ear height, in the rig's coordinates. */
export type HallQuestion = InAir & {
  rig: Rig
  hall: HallDesign
  place: PlanPoint
  /** Nominal frequency of the third octave that is looked at, Hz; shares and the line of equal strength are those of the octave about it. */
  bandHz: number
  /** How loud pink noise is where the rig is set flat, dB(A); usualDbA unless given. */
  referenceDbA?: number
}

/**
 * The sound at one place by third octave (spectrumBands), dB re the passband in front without the hall. `lateDb` is null in the bands
 * below lateFromHz, where reverberation cannot be told from the resonances that the sum of reflections makes.
 */
export type PlaceParts = { directDb: number[]; totalDb: number[]; lateDb: (number | null)[] }

export type HallAnswer = {
  /** From the middle of the front face to the listener, m, and the place in front that it is compared with. */
  distanceM: number
  frontM: number
  joiningHz: number
  /** Lowest frequency from which the reverberant field is shown by itself, Hz. */
  lateFromHz: number
  here: PlaceParts
  front: PlaceParts
  /** Of the octave about the band. */
  shares: { here: BandShares; front: BandShares }
  /** Treble and bass here re the front, dB: in the hall, and by the direct sound alone. */
  trebleDb: number
  trebleDirectDb: number
  bassDb: number
  bassDirectDb: number
  /** Where direct sound and all that the hall adds are equally strong in that octave: see equalDistancesM; null if a part of it lies below lateFromHz. */
  equalM: number[] | null
  /** Whether straight ahead direct sound is the stronger one as far as the far wall. */
  equalToWall: boolean
  /** Decay time in the band, s. */
  decayS: number
  /** What the ear makes of pink noise, in a diffuse field; null if a third octave passes what the method takes. */
  heard: { here: Heard; front: Heard } | null
}

/**
 * Everything that the figure shows but for the map.
 *
 * @throws RangeError for a place in a box or outside the hall, a band that is none, a level, a size or an absorption out of range
 */
export function hallAnswer(question: HallQuestion): HallAnswer {
  const { rig, hall: design, bandHz, referenceDbA } = question
  const band = spectrumBands.find(({ nominalHz }) => nominalHz === bandHz)
  if (!band) throw new RangeError(`bandHz is ${bandHz}; allowed is a nominal third octave from 31.5 to 16000 Hz`)
  // Before the place, so that a hall of no size is not told as a place outside it.
  hallOf(design)
  const place = requireHallPlace(rig, design, question.place)
  const standing = hallRig(rig, design, airOf(question.air))
  const { air, free, hall, lateFromHz } = standing
  const lift = liftDb(free, referenceDbA)
  const distanceM = Math.hypot(place.xM, place.zM)
  const frontM = hallFrontM(distanceM, design)
  const levels = { here: hallLevelsAt(standing, place), front: hallLevelsAt(standing, { xM: 0, zM: frontM }) }
  const zeroDb = passbandDb(levels.front.direct)
  const late = heardBands.map(({ lowerHz, centreHz }) =>
    lowerHz >= lateFromHz ? levelDb(standing.levels.lateMeanSquare(centreHz)) : null,
  )
  const shown = heardBands.length - spectrumBands.length
  const partsOf = ({ total, direct }: PlaceLevels): PlaceParts => ({
    totalDb: Array.from(spectrumOf(total), (level) => level - zeroDb),
    directDb: Array.from(spectrumOf(direct), (level) => level - zeroDb),
    lateDb: late.slice(shown).map((level) => (level === null ? null : level - zeroDb)),
  })
  const octave = octaveAbout(bandHz)
  const octaveLate = lateLevelsDb(standing, octave)
  const sharesOf = ({ total, direct }: PlaceLevels): BandShares =>
    bandShares(levelsOfBands(total, octave), levelsOfBands(direct, octave), octaveLate)
  const equalM = octaveLate && equalDistancesM(standing, design, octave)
  const group = (range: { from: number; to: number }, of: keyof PlaceLevels) =>
    groupLevelDb(levels.here[of], heardBands, range.from, range.to) -
    groupLevelDb(levels.front[of], heardBands, range.from, range.to)
  return {
    distanceM,
    frontM,
    joiningHz: standing.levels.joiningHz,
    lateFromHz,
    here: partsOf(levels.here),
    front: partsOf(levels.front),
    shares: { here: sharesOf(levels.here), front: sharesOf(levels.front) },
    trebleDb: group(trebleHz, 'total'),
    trebleDirectDb: group(trebleHz, 'direct'),
    bassDb: group(bassHz, 'total'),
    bassDirectDb: group(bassHz, 'direct'),
    equalM,
    equalToWall: equalM !== null && (equalM[0] as number) >= design.lengthM - standing.at.zM - offWallM - 1e-9,
    decayS: decayTimeS(hall, band.centreHz, air),
    heard: heardPlaces({ here: levels.here.total, front: levels.front.total }, lift, 'diffuse'),
  }
}
