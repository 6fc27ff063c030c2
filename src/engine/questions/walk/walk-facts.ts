import type { Rig } from '../../../acoustics/index.ts'
import { airOf, usualAir } from '../../scene/air.ts'
import { rigDepthM } from '../../scene/rig-outline.ts'
import { earHeightM } from '../../scene/scene-terms.ts'
import { walkAnswer } from './walk.ts'

/**
 * A number that the words of a page need, computed for one rig. A drop is positive when the place is quieter than the front.
 */
export type DemoFact = { value: number; unit: 'dB' | 'm' | 'm/s' | '%' }

/** The distance at which the words compare front and rear, m. */
export const comparedAtM = 2

const degree = Math.PI / 180

/** Names of the directions in the words, and their angles from straight in front. */
const directions = { oblique: 45, beside: 90, 'rear-quarter': 135, behind: 180 } as const
type Direction = keyof typeof directions

export type DemoFactName =
  | `${'bass' | 'treble'}-drop-${Direction}`
  | `${'bass' | 'treble'}-drop-behind-nearest-face`
  | 'bass-power-behind'
  | 'compared-at'
  | 'behind-back-face'
  | 'rear-distance-nearest-face'
  | 'path-drop-nearest-face'
  | 'ear-height'
  | 'bass-box-width'
  | 'bass-box-depth'
  | 'speed-of-sound'
  | 'wavelength-60'
  | 'wavelength-4k'

/**
 * The numbers of the prose for one rig, from the same functions as its figures: free field, 20 °C, listener standing,
 * pink noise, bass 40–160 Hz and treble 2–16 kHz against the front at the same distance.
 *
 * Distance is measured in plan from the middle of the front face; facts that end in "nearest-face" measure it from the
 * nearest face of a cabinet, so that 2 m behind is 2 m behind the back.
 * "bass-power-behind" is the power ratio behind : front.
 *
 * @throws RangeError if the rig has no cabinet or is not sound (see checkRig)
 */
export function demoFacts(rig: Rig): Record<DemoFactName, DemoFact> {
  const bassBox = bassCabinet(rig)
  const { speedOfSoundMps } = airOf(usualAir)
  const comparisons = Object.fromEntries(
    Object.entries(directions).map(([name, angleDeg]) => [name, dropsAt(rig, angleDeg, comparedAtM)]),
  ) as Record<Direction, Drops>
  const { oblique, beside, behind } = comparisons
  const rearQuarter = comparisons['rear-quarter']
  const rearDistanceM = comparedAtM + rigDepthM(rig)
  const rearPlace = { angleRad: Math.PI, distanceM: rearDistanceM }
  const nearest = walkAnswer({ rig, place: rearPlace, datum: 'nearest-face', air: usualAir })
  return {
    'bass-drop-oblique': dB(oblique.bass),
    'treble-drop-oblique': dB(oblique.treble),
    'bass-drop-beside': dB(beside.bass),
    'treble-drop-beside': dB(beside.treble),
    'bass-drop-rear-quarter': dB(rearQuarter.bass),
    'treble-drop-rear-quarter': dB(rearQuarter.treble),
    'bass-drop-behind': dB(behind.bass),
    'treble-drop-behind': dB(behind.treble),
    'bass-drop-behind-nearest-face': dB(-nearest.bassDb),
    'treble-drop-behind-nearest-face': dB(-nearest.trebleDb),
    'bass-power-behind': { value: 100 * 10 ** (-behind.bass / 10), unit: '%' },
    'compared-at': metres(comparedAtM),
    'behind-back-face': metres(comparedAtM - rigDepthM(rig)),
    'rear-distance-nearest-face': metres(rearDistanceM),
    'path-drop-nearest-face': dB(-nearest.pathDb),
    'ear-height': metres(earHeightM),
    'bass-box-width': metres(bassBox.widthM),
    'bass-box-depth': metres(bassBox.depthM),
    'speed-of-sound': { value: speedOfSoundMps, unit: 'm/s' },
    'wavelength-60': metres(speedOfSoundMps / 60),
    'wavelength-4k': metres(speedOfSoundMps / 4000),
  }
}

type Drops = { bass: number; treble: number }

function dropsAt(rig: Rig, angleDeg: number, distanceM: number): Drops {
  const { bassDb, trebleDb } = walkAnswer({
    rig,
    place: { angleRad: angleDeg * degree, distanceM },
    datum: 'front-face',
    air: usualAir,
  })
  return { bass: -bassDb, treble: -trebleDb }
}

/** The cabinet that reaches lowest. */
function bassCabinet(rig: Rig) {
  const lowestHz = ({ ways }: Rig['cabinets'][number]) => Math.min(...ways.map((way) => way.highPass?.frequencyHz ?? 0))
  const first = [...rig.cabinets].sort((a, b) => lowestHz(a) - lowestHz(b))[0]
  if (!first) throw new RangeError('rig.cabinets has 0 cabinets; allowed is 1 or more')
  return first
}

const dB = (value: number): DemoFact => ({ value, unit: 'dB' })
const metres = (value: number): DemoFact => ({ value, unit: 'm' })
