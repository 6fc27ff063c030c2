import {
  decayTimeS,
  groupLevelDb,
  levelDb,
  type PlanPoint,
  type Rig,
  squaredMagnitude,
} from '../../../acoustics/index.ts'
import { airOf, type InAir } from '../../scene/air.ts'
import { liftDb, passbandDb } from '../../scene/free-field.ts'
import {
  type HallRig,
  hallFrontM,
  hallLevelsAt,
  hallRig,
  type PlaceLevels,
  requireHallPlace,
} from '../../scene/hall-rig.ts'
import { type HallDesign, hallOf } from '../../scene/hall-scene.ts'
import { type Heard, heardPlaces } from '../../scene/heard.ts'
import { earHeightM } from '../../scene/scene-terms.ts'
import { bassHz, heardBands, spectrumBands, spectrumOf, trebleHz } from '../../scene/third-octaves.ts'

/** A rig in a hall and a listener at ear height, in the rig's coordinates. */
export type HallQuestion = InAir & {
  rig: Rig
  hall: HallDesign
  place: PlanPoint
  /** Nominal frequency of the third octave that is looked at, Hz. */
  bandHz: number
  /** How loud pink noise is where the rig is set flat, dB(A); usualDbA unless given. */
  referenceDbA?: number
}

/**
 * The sound at one place by third octave (spectrumBands), dB re the passband in front without the hall. `lateDb` is null in the bands
 * below lateFromHz, where reverberation cannot be told from the resonances that the sum of reflections makes.
 */
export type PlaceParts = { directDb: number[]; totalDb: number[]; lateDb: (number | null)[] }

/** What the sound in one band is made of, as shares of its energy; direct sound and early reflections may cancel in part. */
export type BandShares = {
  direct: number
  /** Early reflections; below lateFromHz all reflections. Never below 0. */
  early: number
  late: number
  /** Part of the sound that the hall brings, 0 … 1; null where direct sound and reflections cancel so that there is less than without a hall. */
  hall: number | null
  /** Level of the whole re the direct sound alone, dB. */
  gainDb: number
}

export type HallAnswer = {
  /** From the middle of the front face to the listener, m, and the place in front that it is compared with. */
  distanceM: number
  frontM: number
  joiningHz: number
  /** Lowest frequency from which the reverberant field is shown by itself, Hz. */
  lateFromHz: number
  here: PlaceParts
  front: PlaceParts
  shares: { here: BandShares; front: BandShares }
  /** Treble and bass here re the front, dB: in the hall, and by the direct sound alone. */
  trebleDb: number
  trebleDirectDb: number
  bassDb: number
  bassDirectDb: number
  /** Where direct and reverberant sound are equally strong in the band, m from the front face, every turnStepDeg to the right from straight ahead; null below lateFromHz. */
  equalM: number[] | null
  /** Decay time in the band, s. */
  decayS: number
  /** What the ear makes of pink noise, in a diffuse field; null if a third octave passes what the method takes. */
  heard: { here: Heard; front: Heard } | null
}

/** Step between the directions of equalM, degrees. */
const turnStepDeg = 5

/**
 * Everything that the figure shows but for the map.
 *
 * @throws RangeError for a place in a box or outside the hall, a band that is none, a level, a size or an absorption out of range
 */
export function hallAnswer(question: HallQuestion): HallAnswer {
  const { rig, hall: design, bandHz, referenceDbA } = question
  const bandIndex = spectrumBands.findIndex(({ nominalHz }) => nominalHz === bandHz)
  const band = spectrumBands[bandIndex]
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
  const sharesOf = ({ total, direct }: PlaceLevels): BandShares =>
    bandShares(
      10 ** ((total[shown + bandIndex] as number) / 10),
      10 ** ((direct[shown + bandIndex] as number) / 10),
      late[shown + bandIndex] ?? null,
    )
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
    equalM: band.lowerHz >= lateFromHz ? equalDistancesM(standing, band.centreHz) : null,
    decayS: decayTimeS(hall, band.centreHz, air),
    heard: heardPlaces({ here: levels.here.total, front: levels.front.total }, lift, 'diffuse'),
  }
}

function bandShares(total: number, direct: number, lateDb: number | null): BandShares {
  const late = lateDb === null ? 0 : 10 ** (lateDb / 10)
  const early = Math.max(0, total - late - direct)
  const sum = direct + early + late
  return {
    direct: direct / sum,
    early: early / sum,
    late: late / sum,
    hall: total > direct ? 1 - direct / total : null,
    gainDb: levelDb(total / direct),
  }
}

/** Search steps: the fall with distance is all but 1/r, so that a few suffice. */
const searchSteps = 4

/** In every direction the distance at ear height at which direct and reverberant sound are equally strong, m. */
function equalDistancesM({ levels, free }: HallRig, frequencyHz: number): number[] {
  const late = levels.lateMeanSquare(frequencyHz)
  return Array.from({ length: 360 / turnStepDeg }, (_, step) => {
    const angleRad = (step * turnStepDeg * Math.PI) / 180
    let distanceM = 2
    for (let round = 0; round < searchSteps; round++) {
      const point = { xM: distanceM * Math.sin(angleRad), yM: earHeightM, zM: distanceM * Math.cos(angleRad) }
      if (!free.isOpen(point)) break
      distanceM *= Math.sqrt(squaredMagnitude(free.transferAt(point, frequencyHz)) / late)
      distanceM = Math.max(0.05, Math.min(200, distanceM))
    }
    return distanceM
  })
}
