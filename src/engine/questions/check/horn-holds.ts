import { hornControlHz } from '../../../acoustics/index.ts'
import { computed, judgement } from './check-terms.ts'
import { radPerDeg } from './usual-numbers.ts'

const labelsDeg = [40, 60, 90, 120] as const

/** Lesson 3, What a horn holds. */
export const hornHoldsQuestions = {
  label: judgement({ anchor: 'see', choices: ['above', 'everywhere', 'bass'], right: 'above' }),
  letsGo: computed({
    anchor: 'how-does-that-become-a-rule-of-thumb',
    answer: 'frequency',
    tolerance: { part: 0.05 },
    draw: ({ among, step }) => ({ mouthM: step(0.15, 0.9, 0.05), labelDeg: among(labelsDeg) }),
    solve: ({ mouthM, labelDeg }, air) => hornControlHz(mouthM, labelDeg * radPerDeg, air),
  }),
  twice: judgement({ anchor: 'see', choices: ['lower', 'narrower', 'higher'], right: 'lower' }),
  across: computed({
    anchor: 'why',
    answer: 'times',
    tolerance: { part: 0.07 },
    draw: ({ among, step }) => ({ mouthM: step(0.2, 0.9, 0.05), frequencyHz: among([250, 500, 1000, 2000, 4000]) }),
    solve: ({ mouthM, frequencyHz }, air) => (mouthM * frequencyHz) / air.speedOfSoundMps,
    worked: ({ frequencyHz }, air) => ({ waveM: air.speedOfSoundMps / frequencyHz }),
  }),
  bassHorn: judgement({ anchor: 'a-horn-for-the-bass', choices: ['size', 'walls', 'power'], right: 'size' }),
  mouthFor: computed({
    anchor: 'a-horn-for-the-bass',
    answer: 'length',
    tolerance: { part: 0.05 },
    draw: ({ among }) => ({ labelDeg: among(labelsDeg), frequencyHz: among([60, 80, 100, 125, 250, 500]) }),
    // The rule goes with one over the mouth.
    solve: ({ labelDeg, frequencyHz }, air) => hornControlHz(1, labelDeg * radPerDeg, air) / frequencyHz,
  }),
  waist: judgement({ anchor: 'see', choices: ['narrower', 'exact', 'round'], right: 'narrower' }),
  edges: computed({
    anchor: 'what-does-the-mouth-do-to-a-direction',
    answer: 'length',
    tolerance: { part: 0.07 },
    draw: ({ among, step }) => ({ mouthM: step(0.2, 0.9, 0.05), asideDeg: among([30, 45, 60, 90]) }),
    solve: ({ mouthM, asideDeg }) => mouthM * Math.sin(asideDeg * radPerDeg),
  }),
}
