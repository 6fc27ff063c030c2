import { amplitudeLevelDb, wrapRulesHz } from '../../../acoustics/index.ts'
import { computed, judgement } from './check-terms.ts'
import { tonesHz } from './usual-numbers.ts'

/** Lesson 2, Small box, long wave. */
export const smallBoxQuestions = {
  low: judgement({ anchor: 'why', choices: ['nearly', 'half', 'silent'], right: 'nearly' }),
  asLong: computed({
    anchor: 'how-large-is-the-box-against-it',
    answer: 'frequency',
    tolerance: { part: 0.05 },
    draw: ({ step }) => ({ widthM: step(0.25, 0.9, 0.05) }),
    solve: ({ widthM }, air) => wrapRulesHz(widthM, air).wavelengthIsWidthHz,
  }),
  gradual: judgement({ anchor: 'see', choices: ['atWidth', 'slowly', 'atKa', 'never'], right: 'slowly' }),
  waves: computed({
    anchor: 'how-long-is-the-wave',
    answer: 'times',
    tolerance: { part: 0.07 },
    draw: ({ among, step }) => ({ frequencyHz: among(tonesHz), widthM: step(0.3, 0.8, 0.05) }),
    solve: ({ frequencyHz, widthM }, air) => wrapRulesHz(widthM, air).wavelengthIsWidthHz / frequencyHz,
    worked: ({ frequencyHz }, air) => ({ waveM: air.speedOfSoundMps / frequencyHz }),
  }),
  gain: judgement({
    anchor: 'where-do-the-6-db-in-front-come-from',
    choices: ['wall', 'amplifier', 'aim'],
    right: 'wall',
  }),
  begins: computed({
    anchor: 'how-large-is-the-box-against-it',
    answer: 'frequency',
    tolerance: { part: 0.05 },
    draw: ({ step }) => ({ widthM: step(0.25, 0.9, 0.05) }),
    solve: ({ widthM }, air) => wrapRulesHz(widthM, air).kaIsOneHz,
  }),
  turn: judgement({ anchor: 'do', choices: ['little', 'half', 'side'], right: 'little' }),
  trap: computed({
    anchor: 'the-equal-distance-trap',
    answer: 'level',
    tolerance: { amount: 0.5 },
    draw: ({ step }) => ({ distanceM: step(1, 5, 0.5), depthM: step(0.4, 0.9, 0.05) }),
    solve: ({ distanceM, depthM }) => amplitudeLevelDb((distanceM + depthM) / distanceM),
    worked: ({ distanceM, depthM }) => ({ rearM: distanceM + depthM }),
  }),
}
