import { amplitudeLevelDb, dipsHz, risesHz } from '../../../acoustics/index.ts'
import { needed } from '../fact.ts'
import { computed, judgement } from './check-terms.ts'
import { tonesHz } from './usual-numbers.ts'

/** Dips and rises are looked for up to here, Hz: beyond every first one of these distances. */
const upToHz = 10_000

/** What arrives over a hard wall against the straight sound, as amplitudes: the way is longer by there and back. */
const overWall = ({ listenerM, faceToWallM }: { listenerM: number; faceToWallM: number }): number =>
  listenerM / (listenerM + 2 * faceToWallM)

/** Lesson 6, The wall joins in. */
export const wallJoinsInQuestions = {
  wholeWave: judgement({ anchor: 'why', choices: ['adds', 'cancels', 'nothing'], right: 'adds' }),
  firstDip: computed({
    anchor: 'do',
    answer: 'frequency',
    tolerance: { part: 0.05 },
    draw: ({ step }) => ({ faceToWallM: step(0.5, 4, 0.1) }),
    solve: ({ faceToWallM }, air) => needed(dipsHz(2 * faceToWallM, upToHz, air)[0], 'a first dip'),
    worked: ({ faceToWallM }) => ({ thereAndBackM: 2 * faceToWallM }),
  }),
  moreBehind: judgement({
    anchor: 'when-there-is-more-bass-behind',
    choices: ['canBe', 'never', 'turned'],
    right: 'canBe',
  }),
  firstRise: computed({
    anchor: 'what-does-the-sum-say',
    answer: 'frequency',
    tolerance: { part: 0.05 },
    draw: ({ step }) => ({ faceToWallM: step(0.5, 4, 0.1) }),
    solve: ({ faceToWallM }, air) => needed(risesHz(2 * faceToWallM, upToHz, air)[0], 'a first rise'),
    worked: ({ faceToWallM }) => ({ thereAndBackM: 2 * faceToWallM }),
  }),
  equaliser: judgement({ anchor: 'do', choices: ['fill', 'move', 'neighbours'], right: 'move' }),
  closeEnough: computed({
    anchor: 'do',
    answer: 'length',
    tolerance: { part: 0.05 },
    draw: ({ among }) => ({ frequencyHz: among(tonesHz.filter((toneHz) => toneHz >= 80)) }),
    // A path that is longer by so many metres dips at so many times a lower frequency.
    solve: ({ frequencyHz }, air) => needed(dipsHz(1, upToHz, air)[0], 'a dip of 1 m') / frequencyHz / 2,
    worked: ({ frequencyHz }, air) => ({ waveM: air.speedOfSoundMps / frequencyHz }),
  }),
  curtain: judgement({
    anchor: 'does-it-matter-what-the-wall-is-made-of',
    choices: ['gone', 'little', 'moved'],
    right: 'little',
  }),
  deep: computed({
    anchor: 'what-does-the-sum-say',
    answer: 'level',
    tolerance: { amount: 0.7 },
    draw: ({ step }) => ({ listenerM: step(2, 8, 0.5), faceToWallM: step(0.5, 2.5, 0.25) }),
    solve: (values) => -amplitudeLevelDb(1 - overWall(values)),
    worked: (values) => ({ wallWayM: values.listenerM + 2 * values.faceToWallM, wallShare: overWall(values) }),
  }),
}
