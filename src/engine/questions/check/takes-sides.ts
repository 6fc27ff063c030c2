import {
  amplitudeLevelDb,
  type Complex,
  dipsHz,
  fromPolar,
  gradientPair,
  magnitude,
  monopole,
} from '../../../acoustics/index.ts'
import { needed } from '../fact.ts'
import { computed, judgement } from './check-terms.ts'
import { radPerDeg } from './usual-numbers.ts'

/** One of two equal sounds of size 1 and another that is turned against it, added. */
const withOther = (turnRad: number): number => {
  const other: Complex = fromPolar(1, turnRad)
  return magnitude({ re: 1 + other.re, im: other.im })
}

/** Lesson 8, Bass that takes sides. */
export const takesSidesQuestions = {
  turn: judgement({ anchor: 'what-turning-alone-does', choices: ['little', 'behind', 'double'], right: 'little' }),
  delay: computed({
    anchor: 'why',
    answer: 'delay',
    tolerance: { part: 0.04 },
    draw: ({ step }) => ({ spacingM: step(0.7, 2, 0.05) }),
    solve: ({ spacingM }, air) => {
      const centre = { xM: 0, yM: 0, zM: 0 }
      const pair = gradientPair({ spacingM, centre, yawRad: 0, radiation: (hz) => monopole(hz, air) }, air)
      return needed(pair[1], 'a rear box').delayS
    },
  }),
  polarity: judgement({
    anchor: 'what-does-an-error-cost',
    choices: ['backwards', 'weaker', 'nothing'],
    right: 'backwards',
  }),
  quarter: computed({
    anchor: 'what-does-the-sum-say',
    answer: 'length',
    tolerance: { part: 0.05 },
    draw: ({ among }) => ({ frequencyHz: among([40, 50, 63, 80, 100]) }),
    // There and back over a quarter wave is half a wave: where a path twice as long dips.
    solve: ({ frequencyHz }, air) => needed(dipsHz(1, 1000, air)[0], 'a dip of 1 m') / frequencyHz / 2,
    worked: ({ frequencyHz }, air) => ({ waveM: air.speedOfSoundMps / frequencyHz }),
  }),
  silence: judgement({ anchor: 'why', choices: ['half', 'higher', 'all'], right: 'half' }),
  loss: computed({
    anchor: 'what-does-the-sum-say',
    answer: 'level',
    tolerance: { amount: 0.7 },
    draw: ({ among, step }) => ({ spacingM: step(0.8, 1.4, 0.05), frequencyHz: among([31.5, 40, 50]) }),
    // The rear box is late by twice the way, and inverted: half a turn more. Stacked, the two make 2.
    solve: ({ spacingM, frequencyHz }, air) =>
      -amplitudeLevelDb(withOther(Math.PI - (4 * Math.PI * frequencyHz * spacingM) / air.speedOfSoundMps) / 2),
    worked: ({ spacingM, frequencyHz }, air) => ({ partShare: (spacingM * frequencyHz) / air.speedOfSoundMps }),
  }),
  table: judgement({ anchor: 'when-moving-is-better', choices: ['move', 'more', 'level'], right: 'move' }),
  together: computed({
    anchor: 'what-does-the-sum-say',
    answer: 'level',
    tolerance: { amount: 0.5 },
    draw: ({ among }) => ({ lateDeg: among([15, 30, 45, 60, 75, 90, 100, 110]) }),
    solve: ({ lateDeg }) => amplitudeLevelDb(withOther(-lateDeg * radPerDeg)),
    worked: ({ lateDeg }) => ({ pressureTimes: withOther(-lateDeg * radPerDeg) }),
  }),
}
