import { groupLevelDb, type ListeningPlace, measuredDistanceM, placePoint, type Rig } from '../../../acoustics/index.ts'
import { airOf, type InAir } from '../../scene/air.ts'
import { requireHallPlace } from '../../scene/hall-rig.ts'
import { earHeightM } from '../../scene/scene-terms.ts'
import { levelsAt, standingRig } from '../../scene/standing-rig.ts'
import type { Surroundings } from '../../scene/surroundings.ts'
import { bassHz, heardBands, trebleHz } from '../../scene/third-octaves.ts'
import type { WalkedPlace } from './phone-terms.ts'

/** A rig, where it stands, how far in front the phone was held, m, and the places of the walk; null where nobody said where one is. */
export type PhonePredictedQuestion = InAir & {
  rig: Rig
  surroundings: Surroundings
  frontM: number
  places: (WalkedPlace | null)[]
}

/** What is expected at a place against the front: here less front, dB, by recordingBands and in the two groups. */
export type PredictedPlace = { differenceDb: number[]; bassDb: number; trebleDb: number }

/** `outside`: nobody can be there, in a cabinet or outside the hall. */
export type PhonePredictedAnswer = (PredictedPlace | null | 'outside')[]

/**
 * What the model expects at each place of a walk against the front, both at ear height: the levels of the walk-round, for a front at a
 * distance of its own.
 *
 * @throws RangeError if nobody can be in front, or for surroundings out of range
 */
export function phonePredicted({
  rig,
  surroundings,
  frontM,
  places,
  air,
}: PhonePredictedQuestion): PhonePredictedAnswer {
  const standing = standingRig(rig, surroundings, airOf(air))
  const levelsOf = (place: WalkedPlace) => {
    const point = placePoint(placeOf(place), earHeightM)
    if (surroundings.kind === 'hall') requireHallPlace(rig, surroundings.design, point)
    return levelsAt(standing, point)
  }
  const front = levelsOf({ angleDeg: 0, distanceM: frontM })
  return places.map((place) => {
    if (!place) return null
    if (measuredDistanceM(placeOf(place), rig, 'nearest-face') === 0) return 'outside'
    try {
      return against(front, levelsOf(place))
    } catch (error) {
      if (error instanceof RangeError) return 'outside'
      throw error
    }
  })
}

const placeOf = ({ angleDeg, distanceM }: WalkedPlace): ListeningPlace => ({
  angleRad: (angleDeg * Math.PI) / 180,
  distanceM,
})

function against(front: Float64Array, here: Float64Array): PredictedPlace {
  const group = ({ from, to }: { from: number; to: number }) =>
    groupLevelDb(here, heardBands, from, to) - groupLevelDb(front, heardBands, from, to)
  return {
    differenceDb: Array.from(here, (levelDb, band) => levelDb - (front[band] as number)),
    bassDb: group(bassHz),
    trebleDb: group(trebleHz),
  }
}
