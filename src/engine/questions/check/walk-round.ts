import { amplitudeLevelDb, amplitudeRatio } from '../../../acoustics/index.ts'
import { computed, judgement } from './check-terms.ts'
import { tonesHz } from './usual-numbers.ts'

/** Lesson 1, Walk round the back. */
export const walkRoundQuestions = {
  rear: judgement({ anchor: 'see', choices: ['more', 'little', 'gone'], right: 'little' }),
  wave: computed({
    anchor: 'how-long-is-a-wave',
    answer: 'length',
    tolerance: { part: 0.05 },
    draw: ({ among }) => ({ frequencyHz: among([...tonesHz, 1000, 2000, 4000]) }),
    solve: ({ frequencyHz }, air) => air.speedOfSoundMps / frequencyHz,
  }),
  matched: judgement({ anchor: 'hear', choices: ['turned', 'share', 'deaf'], right: 'share' }),
  power: computed({
    anchor: 'guess',
    answer: 'share',
    tolerance: { part: 0.12 },
    draw: ({ step }) => ({ dropDb: step(2, 16, 1) }),
    solve: ({ dropDb }) => amplitudeRatio(-dropDb) ** 2,
    worked: ({ dropDb }) => ({ tenthsTimes: dropDb / 10 }),
  }),
  round: judgement({ anchor: 'why', choices: ['long', 'strong', 'port'], right: 'long' }),
  path: computed({
    anchor: 'what-does-the-tape-measure-hide',
    answer: 'level',
    tolerance: { amount: 0.5 },
    draw: ({ step }) => ({ distanceM: step(1, 4, 0.25), depthM: step(0.5, 1, 0.05) }),
    solve: ({ distanceM, depthM }) => amplitudeLevelDb((distanceM + depthM) / distanceM),
    worked: ({ distanceM, depthM }) => ({ rearM: distanceM + depthM }),
  }),
  tape: judgement({
    anchor: 'what-does-the-tape-measure-hide',
    choices: ['from', 'microphone', 'louder'],
    right: 'from',
  }),
  farther: computed({
    anchor: 'what-does-the-tape-measure-hide',
    answer: 'level',
    tolerance: { amount: 0.5 },
    draw: ({ among, step }) => {
      const [nearM, timesTimes] = [step(1, 3, 0.5), among([1.5, 2, 3, 4])]
      return { nearM, timesTimes, farM: nearM * timesTimes }
    },
    solve: ({ timesTimes }) => amplitudeLevelDb(timesTimes),
  }),
}
