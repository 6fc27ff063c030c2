import {
  amplitudeRatio,
  dipsHz,
  distanceStepDb,
  energyAverageDb,
  enteredLevels,
  estimateOfHalf,
  levelDifference,
  recordingBands,
  withoutBackground,
} from '../../../acoustics/index.ts'
import { needed } from '../fact.ts'
import { computed, judgement } from './check-terms.ts'

/** Dips are looked for up to here, Hz: beyond every second one of a way that is longer by a metre. */
const upToHz = 10_000

const powerTimes = (moreDb: number): number => amplitudeRatio(moreDb) ** 2

/** The same level in every band, as a reader would type it in. */
const flat = (levelDb: number) =>
  enteredLevels(
    recordingBands.map(() => levelDb),
    0,
  )

/** The rig alone, from a level with its noise and one without. */
const rigAloneDb = ({ soundDb, quietDb }: { soundDb: number; quietDb: number }): number =>
  needed(withoutBackground(estimateOfHalf(soundDb, 0), estimateOfHalf(quietDb, 0)).estimate, 'a sound over the rest')
    .levelDb

/** Lesson 9, Prove it with two microphones. */
export const twoMicrophonesQuestions = {
  first: judgement({ anchor: 'do', choices: ['match', 'gains', 'odd'], right: 'match' }),
  holes: computed({
    anchor: 'four-shapes-to-know',
    answer: 'length',
    tolerance: { part: 0.05 },
    draw: ({ among }) => ({ secondHoleHz: among([90, 120, 150, 180, 210, 240, 300, 360, 450]) }),
    // A way that is longer by so many metres dips at so many times a lower frequency. The wall is half of it away.
    solve: ({ secondHoleHz }, air) => needed(dipsHz(1, upToHz, air)[1], 'a second dip of 1 m') / secondHoleHz / 2,
    worked: ({ secondHoleHz }, air) => ({
      lowestHz: secondHoleHz / 3,
      waveM: air.speedOfSoundMps / (secondHoleHz / 3),
    }),
  }),
  talk: judgement({ anchor: 'why', choices: ['again', 'average', 'cancels'], right: 'again' }),
  averagedIn: computed({
    anchor: 'hear',
    answer: 'level',
    tolerance: { amount: 0.5 },
    draw: ({ among, step }) => ({ takeS: among([20, 30, 40]), talkS: step(4, 10, 1), moreDb: step(8, 15, 1) }),
    // One level for each second.
    solve: ({ takeS, talkS, moreDb }) =>
      energyAverageDb(Array.from({ length: takeS }, (_, second) => (second < talkS ? moreDb : 0))),
    worked: ({ takeS, talkS, moreDb }) => ({
      talkTimes: powerTimes(moreDb),
      meanTimes: (takeS - talkS + talkS * powerTimes(moreDb)) / takeS,
    }),
  }),
  afterwards: judgement({
    anchor: 'what-cannot-be-found-afterwards',
    choices: ['wall', 'microphone', 'volume', 'meter'],
    right: 'wall',
  }),
  lifted: computed({
    anchor: 'how-near-may-the-background-be',
    answer: 'level',
    tolerance: { amount: 0.2 },
    draw: ({ among, step }) => {
      const [marginDb, quietDb] = [among([3, 4, 5, 6]), step(40, 55, 1)]
      return { soundDb: quietDb + marginDb, quietDb }
    },
    solve: (values) => values.soundDb - rigAloneDb(values),
    worked: (values) => ({
      marginDb: values.soundDb - values.quietDb,
      quietShare: powerTimes(values.quietDb - values.soundDb),
      rigDb: rigAloneDb(values),
    }),
  }),
  volume: judgement({ anchor: 'do', choices: ['repeat', 'listen', 'bend'], right: 'repeat' }),
  sends: computed({
    anchor: 'why',
    answer: 'level',
    tolerance: { amount: 0.5 },
    draw: ({ among, step }) => {
      const behindM = among([2, 2.5, 3])
      return { offsetDb: step(1, 3, 0.5), shownDb: step(2, 8, 1), behindM, frontM: behindM + among([0.5, 1, 1.5]) }
    },
    solve: ({ offsetDb, shownDb, behindM, frontM }) => {
      const [band] = levelDifference({
        front: { levels: flat(shownDb) },
        behind: { levels: flat(0) },
        offset: flat(offsetDb),
        bringTogether: { frontM, behindM },
      })
      return needed(band?.difference, 'a difference').levelDb
    },
    worked: ({ behindM, frontM }) => ({ wayDb: distanceStepDb({ frontM: behindM, behindM: frontM }) }),
  }),
}
