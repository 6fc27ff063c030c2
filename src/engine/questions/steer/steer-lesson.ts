import type { Rig } from '../../../acoustics/index.ts'
import { airOf, usualAir } from '../../scene/air.ts'
import type { SteerQuestion, SteerSet } from './steer-terms.ts'

// The case of the lesson on steered bass, from which its numbers and its guess start.

/** The pair of the lesson, with which its figure begins: a quarter wavelength of 63 Hz apart, delay to the tenth of a millisecond. */
export const lessonSet: SteerSet = {
  arrangement: 'pair',
  count: 2,
  spacingM: 1.35,
  delayS: 0.0039,
  inverted: true,
  turned: false,
  levelDb: 0,
}

/** The case of the lesson: the pair outdoors, people 5 m in front, the table 4 m behind the foremost front. */
export const lessonQuestion = (rig: Rig): SteerQuestion => ({
  rig,
  point: false,
  set: lessonSet,
  surroundings: { kind: 'outdoors', floor: 'hard' },
  front: { xM: 0, zM: 5 },
  behind: { xM: 0, zM: -4 },
  band: { fromHz: 40, toHz: 100 },
  frequencyHz: 63,
  error: 'none',
})

/** The lesson's case as its numbers are computed. */
export const lessonCase = (rig: Rig): SteerQuestion => ({ ...lessonQuestion(rig), air: usualAir })

/** Speed of sound of the lesson, m/s. */
export const lessonSpeedMps = airOf(usualAir).speedOfSoundMps

/** The belief of the lesson: the rear box turned round and nothing else. */
export const turnedOnly: SteerSet = { ...lessonSet, delayS: 0, inverted: false, turned: true }
