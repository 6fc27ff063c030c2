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
import { liftDb } from '../../scene/free-field.ts'
import { demoHallStates } from '../../scene/hall-content.ts'
import { directLevelsDb, hallRig } from '../../scene/hall-rig.ts'
import { type HallDesign, hallOf, takingBelow } from '../../scene/hall-scene.ts'
import { heard } from '../../scene/heard.ts'
import { earHeightM } from '../../scene/scene-terms.ts'
import type { Surroundings } from '../../scene/surroundings.ts'
import {
  count,
  decibels,
  type Fact,
  factsBy,
  hertz,
  keptByRig,
  metres,
  needed,
  percent,
  seconds,
  squareMetres,
} from '../fact.ts'
import { walkAnswer } from '../walk/walk.ts'
import { evenLevelsDb, formulaDistanceM, octaveAbout } from './hall-balance.ts'
import { hallMap } from './hall-map.ts'
import { type HallAnswer, hallAnswer } from './hall-parts.ts'
import { outsideFacts } from './outside-facts.ts'

/** The third octave in the middle of the octave that the words speak of, Hz, and a place far down the hall, m in front. */
const spokenHz = 2000
const farM = 12

/** The frequency of the lesson's map, Hz, at which the figure begins: several resonances lie within a hertz of it. */
const mapFrequencyHz = 47

/** Bass share at the tables if the hall's part of the sound were the even field of the formula, in the bass as well. */
function evenBassShare(rig: Rig, design: HallDesign): number {
  const standing = hallRig(rig, design, airOf(usualAir))
  const levels = evenLevelsDb(standing, directLevelsDb(standing.free, tablePlace))
  const lift = liftDb(standing.free)
  return heard(
    levels.map((level) => level + lift),
    'diffuse',
  ).heard.bassShare
}

/** How much less a sound level meter shows at a place than in front at the same distance, A-weighted. */
function aWeightedDrop({ heard }: HallAnswer): Fact {
  const { here, front } = needed(heard, 'a level')
  return decibels(front.aWeightedDb - here.aWeightedDb)
}

/** The numbers of the lesson for one rig in the demo hall, from the functions that its figure uses. */
export const hallFacts = keptByRig((rig: Rig) => {
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
  /** A number of every state, by its name and the state's. */
  const ofStates = <Name extends string>(name: Name, of: (answer: HallAnswer, hall: HallDesign) => Fact) =>
    factsBy(hallStateKeys.map((key) => [`${name}-${key}` as const, of(answers[key], designs[key])]))
  const air = airOf(usualAir)
  const timber = hallOf(designs.timber)
  const { joiningHz } = answers.timber
  const constantM2 = roomConstantM2(timber, spokenHz, air)
  const formulaM = (key: HallStateKey) =>
    metres(formulaDistanceM(hallRig(rig, designs[key], air), octaveAbout(spokenHz)))
  const evenM = criticalDistanceM(0, timber, spokenHz, air)
  const modes = shoeboxModesHz(timber, joiningHz, air)
  const map = { rig, hall: designs.timber, frequencyHz: mapFrequencyHz, source: 'usual', air: usualAir } as const
  const usual = hallMap(map)
  /** The same place in free air, or outdoors: on hard ground. */
  const without = (surroundings?: Surroundings) =>
    walkAnswer({ rig, place: placeAt(tablePlace), datum: 'front-face', surroundings, air: usualAir })
  const outdoors = without({ kind: 'outdoors', floor: 'hard' })
  /** The share of bass if the walls took half as much, or twice, in each octave below the handbook's lowest. */
  const bassShareBelow = (key: HallStateKey, perOctave: number) =>
    percent(needed(at(takingBelow(designs[key], perOctave)).heard, 'a bass share').here.bassShare)
  const far = at(designs.timber, frontPoint(farM, earHeightM))
  return {
    ...ofStates('treble', ({ trebleDb }) => decibels(-trebleDb)),
    'treble-part-timber': percent(10 ** (answers.timber.trebleDb / 10)),
    'treble-part-brick': percent(10 ** (answers.brick.trebleDb / 10)),
    ...ofStates('decay', ({ decayS }) => seconds(decayS)),
    ...ofStates('critical', ({ equalM }) => metres(needed(equalM?.[0], 'a critical distance'))),
    ...ofStates('bass-share', ({ heard }) => percent(needed(heard, 'a bass share').here.bassShare)),
    'a-weighted-drop-timber': aWeightedDrop(answers.timber),
    'a-weighted-drop-packed': aWeightedDrop(answers.packed),
    ...outsideFacts(),
    ...ofStates('absorption', (_, hall) => percent(hallOf(hall).absorption(spokenHz))),
    'share-timber': percent(needed(answers.timber.shares.here.hall, 'a share of the hall')),
    'treble-free-air': decibels(-answers.timber.trebleDirectDb),
    'bass-share-free-air': percent(without().heard.here.bassShare),
    'treble-outdoors': decibels(-outdoors.trebleDb),
    'bass-share-outdoors': percent(outdoors.heard.here.bassShare),
    'bass-share-less-timber': bassShareBelow('timber', 0.5),
    'bass-share-more-timber': bassShareBelow('timber', 2),
    'bass-share-less-brick': bassShareBelow('brick', 0.5),
    'bass-share-more-brick': bassShareBelow('brick', 2),
    'bass-share-even-brick': percent(evenBassShare(rig, designs.brick)),
    'critical-250': metres(
      needed(
        hallAnswer({ rig, hall: designs.timber, place: tablePlace, bandHz: 250, air: usualAir }).equalM?.[0],
        'a critical distance at 250 Hz',
      ),
    ),
    'table-distance': metres(Math.hypot(tablePlace.xM, tablePlace.zM)),
    volume: { value: hallVolumeM3(timber), unit: 'm³' },
    surface: squareMetres(hallSurfaceM2(timber)),
    'mean-absorption': count(timber.absorption(spokenHz)),
    'room-constant': squareMetres(constantM2),
    'decay-sabine': seconds(decayTimeS(timber, spokenHz, air, 'sabine')),
    'critical-formula': formulaM('timber'),
    'critical-formula-packed': formulaM('packed'),
    'critical-even': metres(evenM),
    joining: hertz(joiningFrequencyHz(timber, air)),
    modes: count(modes.length),
    'first-mode': hertz(needed(modes[0], 'a resonance').frequencyHz),
    'map-frequency': hertz(mapFrequencyHz),
    'map-over': decibels(usual.loudestDb),
    'map-quietest': decibels(-usual.quietestDb),
    'far-share': percent(needed(far.shares.here.hall, 'a share of the hall far away')),
    'far-distance': metres(farM),
  } satisfies Record<string, Fact>
})
