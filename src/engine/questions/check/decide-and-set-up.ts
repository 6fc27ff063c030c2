import { amplitudeRatio, dipsHz, levelDb } from '../../../acoustics/index.ts'
import { needed } from '../fact.ts'
import { computed, judgement } from './check-terms.ts'

const powerOf = (db: number): number => amplitudeRatio(db) ** 2

/** Lesson 10, Decide and set up. */
export const decideAndSetUpQuestions = {
  first: judgement({ anchor: 'do', choices: ['who', 'subs', 'level'], right: 'who' }),
  turnedDown: computed({
    anchor: 'why-did-turning-down-gain-less-than-it-took',
    answer: 'level',
    tolerance: { amount: 0.4 },
    draw: ({ step, among }) => ({ subsDb: step(98, 104, 1), topsDb: step(90, 96, 1), downDb: among([4, 5, 6, 8]) }),
    solve: ({ subsDb, topsDb, downDb }) =>
      levelDb(powerOf(subsDb) + powerOf(topsDb)) - levelDb(powerOf(subsDb - downDb) + powerOf(topsDb)),
    worked: ({ subsDb, topsDb, downDb }) => ({
      beforeDb: levelDb(powerOf(subsDb) + powerOf(topsDb)),
      afterDb: levelDb(powerOf(subsDb - downDb) + powerOf(topsDb)),
    }),
  }),
  trade: judgement({ anchor: 'why', choices: ['nothing', 'steering', 'good'], right: 'nothing' }),
  cancels: computed({
    anchor: 'why',
    answer: 'frequency',
    tolerance: { part: 0.05 },
    draw: ({ step }) => ({ nearM: step(3, 6, 0.5), moreM: step(1, 3, 0.25) }),
    solve: ({ moreM }, air) => needed(dipsHz(moreM, 1000, air)[0], 'a first dip'),
    worked: ({ nearM, moreM }) => ({ farM: nearM + moreM }),
  }),
  estimate: judgement({ anchor: 'what-may-be-promised', choices: ['room', 'fine', 'law'], right: 'room' }),
  without: computed({
    anchor: 'why-did-turning-down-gain-less-than-it-took',
    answer: 'level',
    tolerance: { amount: 0.4 },
    draw: ({ step }) => ({ loudDb: step(98, 102, 1), quietDb: step(94, 97, 1) }),
    solve: ({ loudDb, quietDb }) => levelDb(powerOf(loudDb) + powerOf(quietDb)) - quietDb,
    worked: ({ loudDb, quietDb }) => ({ bothDb: levelDb(powerOf(loudDb) + powerOf(quietDb)) }),
  }),
  differs: judgement({ anchor: 'what-may-be-promised', choices: ['look', 'trust', 'equalise'], right: 'look' }),
  away: computed({
    anchor: 'three-halls-to-solve',
    answer: 'length',
    tolerance: { part: 0.05 },
    draw: ({ step, among }) => ({ nearM: step(6, 12, 1), lessDb: among([2, 3, 4, 5, 6]) }),
    solve: ({ nearM, lessDb }) => nearM * amplitudeRatio(lessDb),
    worked: ({ lessDb }) => ({ farTimes: amplitudeRatio(lessDb) }),
  }),
}
