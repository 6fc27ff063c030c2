import { hallSurfaceM2, hallVolumeM3 } from '../../../acoustics/field/hall.ts'
import {
  criticalDistanceM,
  decayTimeS,
  frontPoint,
  joiningFrequencyHz,
  placeAt,
  type Rig,
  roomConstantM2,
  shoeboxModesHz,
} from '../../../acoustics/index.ts'
import { airOf, usualAir } from '../../scene/air.ts'
import { type HallStateKey, hallStateKeys, tablePlace } from '../../scene/demo-hall.ts'
import { demoHallStates } from '../../scene/hall-content.ts'
import { type HallDesign, hallOf } from '../../scene/hall-scene.ts'
import { walkAnswer } from '../walk/walk.ts'
import { hallMap } from './hall-map.ts'
import { type HallAnswer, hallAnswer } from './hall-parts.ts'

/** A number that the lesson on halls needs. A drop is positive when the place is quieter than the front. */
export type HallFact = { value: number; unit: 'dB' | 'm' | 'Hz' | 's' | '%' | 'm²' | 'm³' | '1' }

type PerState = 'treble' | 'bass' | 'decay' | 'critical' | 'share' | 'front-share' | 'bass-share' | 'absorption'
export type HallFactName =
  | `${PerState}-${HallStateKey}`
  | 'treble-outdoors'
  | 'bass-outdoors'
  | 'bass-share-outdoors'
  | 'critical-250'
  | 'table-distance'
  | 'volume'
  | 'surface'
  | 'mean-absorption'
  | 'room-constant'
  | 'absorption-area'
  | 'decay-sabine'
  | 'directivity'
  | 'critical-on-axis'
  | 'critical-even'
  | 'joining'
  | 'modes'
  | 'first-mode'
  | 'map-frequency'
  | 'map-over'
  | 'map-quietest'
  | 'map-corner-over'
  | 'map-middle-over'
  | 'far-share'
  | 'far-distance'

/** The band that the words speak of, Hz, and a place far down the hall, m in front. */
const spokenHz = 2000
const farM = 12

/** The frequency of the lesson's map, Hz, at which the figure begins: several resonances lie within a hertz of it. */
const mapFrequencyHz = 47

const kept = new Map<string, Record<HallFactName, HallFact>>()

/** The numbers of the lesson for one rig in the demo hall, from the functions that its figure uses; computed once. */
export function hallFacts(rig: Rig): Record<HallFactName, HallFact> {
  const known = kept.get(rig.name) ?? computeFacts(rig)
  kept.set(rig.name, known)
  return known
}

function computeFacts(rig: Rig): Record<HallFactName, HallFact> {
  const designs = Object.fromEntries(demoHallStates.map(({ key, design }) => [key, design])) as Record<
    HallStateKey,
    HallDesign
  >
  const at = (hall: HallDesign, place = tablePlace): HallAnswer =>
    hallAnswer({ rig, hall, place, bandHz: spokenHz, air: usualAir })
  const answers = Object.fromEntries(hallStateKeys.map((key) => [key, at(designs[key])])) as Record<
    HallStateKey,
    HallAnswer
  >
  const perState = Object.fromEntries(
    hallStateKeys.flatMap((key): [string, HallFact][] => {
      const answer = answers[key]
      const heard = answer.heard
      if (!heard) throw new Error('The lesson names a bass share, and the level is too high for one.')
      return [
        [`treble-${key}`, decibels(-answer.trebleDb)],
        [`bass-${key}`, decibels(-answer.bassDb)],
        [`decay-${key}`, { value: answer.decayS, unit: 's' }],
        [`critical-${key}`, metres(needed(answer.equalM?.[0], 'critical distance'))],
        [`share-${key}`, percent(needed(answer.shares.here.hall, 'share of the hall'))],
        [`front-share-${key}`, percent(needed(answer.shares.front.hall, 'share of the hall in front'))],
        [`bass-share-${key}`, percent(heard.here.bassShare)],
        [`absorption-${key}`, percent(hallOf(designs[key]).absorption(spokenHz))],
      ]
    }),
  ) as Record<`${PerState}-${HallStateKey}`, HallFact>
  const air = airOf(usualAir)
  const timber = hallOf(designs.timber)
  const { joiningHz } = answers.timber
  const constantM2 = roomConstantM2(timber, spokenHz, air)
  const onAxisM = needed(answers.timber.equalM?.[0], 'critical distance')
  const evenM = criticalDistanceM(0, timber, spokenHz, air)
  const modes = shoeboxModesHz(timber, joiningHz, air)
  const map = (source: 'usual' | 'corner' | 'middle') =>
    hallMap({ rig, hall: designs.timber, frequencyHz: mapFrequencyHz, source, air: usualAir })
  const usual = map('usual')
  const far = at(designs.timber, frontPoint(farM, 1.6))
  return {
    ...perState,
    'treble-outdoors': decibels(-answers.timber.trebleDirectDb),
    'bass-outdoors': decibels(-answers.timber.bassDirectDb),
    'bass-share-outdoors': percent(
      walkAnswer({ rig, place: placeAt(tablePlace), datum: 'front-face', air: usualAir }).heard.here.bassShare,
    ),
    'critical-250': metres(
      needed(
        hallAnswer({ rig, hall: designs.timber, place: tablePlace, bandHz: 250, air: usualAir }).equalM?.[0],
        'critical distance at 250 Hz',
      ),
    ),
    'table-distance': metres(Math.hypot(tablePlace.xM, tablePlace.zM)),
    volume: { value: hallVolumeM3(timber), unit: 'm³' },
    surface: { value: hallSurfaceM2(timber), unit: 'm²' },
    'mean-absorption': { value: timber.absorption(spokenHz), unit: '1' },
    'absorption-area': { value: constantM2 * (1 - timber.absorption(spokenHz)), unit: 'm²' },
    'room-constant': { value: constantM2, unit: 'm²' },
    'decay-sabine': { value: decayTimeS(timber, spokenHz, air, 'sabine'), unit: 's' },
    directivity: decibels(20 * Math.log10(onAxisM / evenM)),
    'critical-on-axis': metres(onAxisM),
    'critical-even': metres(evenM),
    joining: { value: joiningFrequencyHz(timber, air), unit: 'Hz' },
    modes: { value: modes.length, unit: '1' },
    'first-mode': { value: needed(modes[0], 'resonance').frequencyHz, unit: 'Hz' },
    'map-frequency': { value: mapFrequencyHz, unit: 'Hz' },
    'map-over': decibels(usual.loudestDb),
    'map-quietest': decibels(-usual.quietestDb),
    'map-corner-over': decibels(map('corner').loudestDb - usual.loudestDb),
    'map-middle-over': decibels(map('middle').loudestDb - usual.loudestDb),
    'far-share': percent(needed(far.shares.here.hall, 'share of the hall far away')),
    'far-distance': metres(farM),
  }
}

function needed<T>(value: T | null | undefined, what: string): T {
  if (value === null || value === undefined) throw new Error(`The lesson speaks of a ${what}, and there is none.`)
  return value
}

const metres = (value: number): HallFact => ({ value, unit: 'm' })
const decibels = (value: number): HallFact => ({ value, unit: 'dB' })
const percent = (share: number): HallFact => ({ value: 100 * share, unit: '%' })
