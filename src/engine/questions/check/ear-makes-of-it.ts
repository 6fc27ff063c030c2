import { allowedExposureH, sonesFromPhons } from '../../../acoustics/index.ts'
import { computed, judgement } from './check-terms.ts'

/** A tone of 1 kHz from which steps are taken, phon: above 40 phon every 10 dB count the same. */
const fromPhon = 50

/** Lesson 5, What your ear makes of it. */
export const earMakesOfItQuestions = {
  tenDown: judgement({ anchor: 'see', choices: ['low', 'high', 'same'], right: 'low' }),
  louder: computed({
    anchor: 'loudness-is-not-level',
    answer: 'times',
    tolerance: { part: 0.08 },
    draw: ({ step }) => ({ moreDb: step(3, 30, 1) }),
    solve: ({ moreDb }) => sonesFromPhons(fromPhon + moreDb) / sonesFromPhons(fromPhon),
  }),
  covers: judgement({ anchor: 'what-masking-does-not-do', choices: ['covered', 'share', 'boosted'], right: 'share' }),
  share: computed({
    anchor: 'see',
    answer: 'share',
    tolerance: { part: 0.07 },
    draw: ({ step }) => ({ bassSones: step(4, 8, 0.5), wholeSones: step(12, 40, 1) }),
    solve: ({ bassSones, wholeSones }) => bassSones / wholeSones,
  }),
  knob: judgement({ anchor: 'do', choices: ['cut', 'walk', 'louder'], right: 'walk' }),
  tone: computed({
    anchor: 'loudness-is-not-level',
    answer: 'sones',
    tolerance: { part: 0.08 },
    draw: ({ step }) => ({ toneDb: step(45, 90, 5) }),
    solve: ({ toneDb }) => sonesFromPhons(toneDb),
  }),
  compare: judgement({ anchor: 'do', choices: ['loudness', 'loudest', 'meter'], right: 'loudness' }),
  stay: computed({
    anchor: 'do',
    answer: 'hours',
    tolerance: { part: 0.12 },
    draw: ({ step }) => ({ levelDbA: step(85, 103, 1) }),
    solve: ({ levelDbA }) => allowedExposureH(levelDbA),
  }),
}
