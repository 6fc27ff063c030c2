import { furtherBeamsRad } from '../../../acoustics/index.ts'
import { needed } from '../fact.ts'
import { computed, judgement } from './check-terms.ts'
import { radPerDeg } from './usual-numbers.ts'

/** Lesson 4, Tall and thin. */
export const tallAndThinQuestions = {
  behind: judgement({ anchor: 'see', choices: ['nearly', 'half', 'silent'], right: 'nearly' }),
  oneWave: computed({
    anchor: 'what-does-the-sum-say',
    answer: 'frequency',
    tolerance: { part: 0.05 },
    draw: ({ step }) => ({ columnM: step(0.6, 2.4, 0.1) }),
    solve: ({ columnM }, air) => air.speedOfSoundMps / columnM,
  }),
  sideways: judgement({ anchor: 'why', choices: ['wide', 'narrow', 'nothing'], right: 'wide' }),
  waves: computed({
    anchor: 'see',
    answer: 'times',
    tolerance: { part: 0.07 },
    draw: ({ among, step }) => ({
      columnM: step(0.6, 2.4, 0.1),
      frequencyHz: among([100, 200, 400, 1000, 2000, 4000]),
    }),
    solve: ({ columnM, frequencyHz }, air) => (columnM * frequencyHz) / air.speedOfSoundMps,
    worked: ({ frequencyHz }, air) => ({ waveM: air.speedOfSoundMps / frequencyHz }),
  }),
  choosing: judgement({ anchor: 'why', choices: ['late', 'strong', 'box'], right: 'late' }),
  further: computed({
    anchor: 'what-does-the-sum-say',
    answer: 'frequency',
    tolerance: { part: 0.05 },
    draw: ({ step }) => ({ spacingM: step(0.06, 0.25, 0.01) }),
    solve: ({ spacingM }, air) => air.speedOfSoundMps / spacingM,
  }),
  chair: judgement({ anchor: 'do', choices: ['lean', 'treble', 'sub'], right: 'lean' }),
  firstNull: computed({
    anchor: 'what-does-the-sum-say',
    answer: 'angle',
    tolerance: { amount: 2 },
    draw: ({ among }) => ({
      columnM: among([1, 1.2, 1.5, 1.8, 2]),
      frequencyHz: among([500, 630, 800, 1000, 1250, 1600]),
    }),
    // Where the last driver is late by a whole wave: as neighbours that are as far apart as the column is long.
    solve: ({ columnM, frequencyHz }, air) =>
      needed(furtherBeamsRad(columnM, frequencyHz, air)[0], 'a first null') / radPerDeg,
    worked: ({ frequencyHz }, air) => ({ waveM: air.speedOfSoundMps / frequencyHz }),
  }),
}
