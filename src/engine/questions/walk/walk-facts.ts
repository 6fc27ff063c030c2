import { groupLevelDb, type Rig } from '../../../acoustics/index.ts'
import { airOf, usualAir } from '../../scene/air.ts'
import { rearEstimateRmsDb } from '../../scene/rear-estimate.ts'
import { rigDepthM } from '../../scene/rig-outline.ts'
import type { Floor, Outdoors } from '../../scene/surroundings.ts'
import { bassHz, middleHz, spectrumBands } from '../../scene/third-octaves.ts'
import { decibels, type Fact, metres, metresPerSecond } from '../fact.ts'
import { walkAnswer } from './walk.ts'

/** The distance at which the words compare front and rear, m. */
export const comparedAtM = 2

/** The distance at which they compare them on hard ground, m. */
const groundAtM = 2.5

/** The distance at which they tell what grass takes, where sound comes low over it, m. */
const overGrassM = 10

const degree = Math.PI / 180

/** Names of the directions in the words, and their angles from straight in front. */
const directions = { oblique: 45, beside: 90, 'rear-quarter': 135, behind: 180 } as const
type Direction = keyof typeof directions

/**
 * The numbers of the prose for one rig, from the same functions as its figures: free air, listener standing, pink noise,
 * bass and treble (bassHz, trebleHz) against the front at the same distance.
 *
 * Distance is measured in plan from the middle of the front face; facts that end in "nearest-face" measure it from the
 * nearest face of a cabinet, so that 2 m behind is 2 m behind the back. Facts that begin with "ground" are for hard ground, by its
 * mirror image, and those that begin with "grass" for grass; "lift" is against free air, "taken" against hard ground.
 *
 * @throws RangeError if the rig has no cabinet or is not sound (see checkRig)
 */
export function demoFacts(rig: Rig) {
  const bassBox = bassCabinet(rig)
  const { speedOfSoundMps } = airOf(usualAir)
  const comparisons = Object.fromEntries(
    Object.entries(directions).map(([name, angleDeg]) => [name, dropsAt(rig, angleDeg, comparedAtM)]),
  ) as Record<Direction, Drops>
  const { oblique, beside, behind } = comparisons
  const onGround = dropsBehind(rig, groundAtM, { kind: 'outdoors', floor: 'hard' })
  const onGrass = dropsBehind(rig, groundAtM, { kind: 'outdoors', floor: 'grass' })
  const bassFree = behindAndFront(rig, groundAtM, bassHz)
  const bassOnGround = behindAndFront(rig, groundAtM, bassHz, 'hard')
  const middleTaken =
    behindAndFront(rig, overGrassM, middleHz, 'hard').front - behindAndFront(rig, overGrassM, middleHz, 'grass').front
  const rearQuarter = comparisons['rear-quarter']
  const rearDistanceM = comparedAtM + rigDepthM(rig)
  const rearPlace = { angleRad: Math.PI, distanceM: rearDistanceM }
  const nearest = walkAnswer({ rig, place: rearPlace, datum: 'nearest-face', air: usualAir })
  return {
    'bass-drop-oblique': decibels(oblique.bass),
    'treble-drop-oblique': decibels(oblique.treble),
    'bass-drop-beside': decibels(beside.bass),
    'treble-drop-beside': decibels(beside.treble),
    'bass-drop-rear-quarter': decibels(rearQuarter.bass),
    'treble-drop-rear-quarter': decibels(rearQuarter.treble),
    'bass-drop-behind': decibels(behind.bass),
    'treble-drop-behind': decibels(behind.treble),
    'bass-drop-behind-nearest-face': decibels(-nearest.bassDb),
    'treble-drop-behind-nearest-face': decibels(-nearest.trebleDb),
    'ground-at': metres(groundAtM),
    'ground-bass-drop-behind': decibels(onGround.bass),
    'ground-treble-drop-behind': decibels(onGround.treble),
    'ground-bass-lift-front': decibels(bassOnGround.front - bassFree.front),
    'ground-bass-lift-behind': decibels(bassOnGround.behind - bassFree.behind),
    'grass-bass-drop-behind': decibels(onGrass.bass),
    'grass-treble-drop-behind': decibels(onGrass.treble),
    'grass-far-at': metres(overGrassM),
    'grass-middle-taken': decibels(middleTaken),
    'compared-at': metres(comparedAtM),
    'behind-back-face': metres(comparedAtM - rigDepthM(rig)),
    'rear-distance-nearest-face': metres(rearDistanceM),
    'path-drop-nearest-face': decibels(-nearest.pathDb),
    'bass-box-width': metres(bassBox.widthM),
    'bass-box-depth': metres(bassBox.depthM),
    'speed-of-sound': metresPerSecond(speedOfSoundMps),
    'estimate-rms': decibels(rearEstimateRmsDb),
    'wavelength-60': metres(speedOfSoundMps / 60),
    'wavelength-4k': metres(speedOfSoundMps / 4000),
  } satisfies Record<string, Fact>
}

type Drops = { bass: number; treble: number }

/** Straight behind, against the front at the same distance from the front face; in free air unless it is said otherwise. */
export const dropsBehind = (rig: Rig, distanceM: number, surroundings?: Outdoors): Drops =>
  dropsAt(rig, directions.behind, distanceM, surroundings)

function dropsAt(rig: Rig, angleDeg: number, distanceM: number, surroundings: Outdoors = { kind: 'outdoors' }): Drops {
  const { bassDb, trebleDb } = walkAnswer({
    rig,
    surroundings,
    place: { angleRad: angleDeg * degree, distanceM },
    datum: 'front-face',
    air: usualAir,
  })
  return { bass: -bassDb, treble: -trebleDb }
}

/** Levels of a part of the spectrum straight behind and straight in front, dB against the front in free air. */
function behindAndFront(rig: Rig, distanceM: number, { from, to }: { from: number; to: number }, floor?: Floor) {
  const { hereDb, frontDb } = walkAnswer({
    rig,
    surroundings: floor ? { kind: 'outdoors', floor } : { kind: 'outdoors' },
    place: { angleRad: Math.PI, distanceM },
    datum: 'front-face',
    air: usualAir,
  })
  const level = (levelsDb: number[]) => groupLevelDb(levelsDb, spectrumBands, from, to)
  return { behind: level(hereDb), front: level(frontDb) }
}

/** The cabinet that reaches lowest. */
function bassCabinet(rig: Rig) {
  const lowestHz = ({ ways }: Rig['cabinets'][number]) => Math.min(...ways.map((way) => way.highPass?.frequencyHz ?? 0))
  const first = [...rig.cabinets].sort((a, b) => lowestHz(a) - lowestHz(b))[0]
  if (!first) throw new RangeError('rig.cabinets has 0 cabinets; allowed is 1 or more')
  return first
}
