import type { Rig } from '../../../acoustics/index.ts'
import {
  decibels,
  type Fact,
  factsBy,
  keptByRig,
  metres,
  metresPerSecond,
  milliseconds,
  needed,
  squareMetres,
  times,
} from '../fact.ts'
import { comparedFacts } from './compared-facts.ts'
import { handFacts } from './hand-facts.ts'
import { meritFacts, usableFacts } from './merit-facts.ts'
import { atWallFacts, inHallFacts, laneFacts, stackedBehindDb } from './place-facts.ts'
import { steerAnswerInFull } from './solved-set.ts'
import { boxOf } from './steer-boxes.ts'
import { lessonCase, lessonSet, lessonSpeedMps, turnedOnly } from './steer-lesson.ts'
import { type SteerAnswer, type SteerQuestion, type SteerSet, steerErrorSize } from './steer-terms.ts'
import { delayOfSpacingS } from './textbook-set.ts'

/** The numbers of the lesson for the lowest cabinet of one rig, from the functions that its figure uses. */
export const steerFacts = keptByRig((rig: Rig) => {
  const question = lessonCase(rig)
  return {
    ...pairFacts(question),
    ...comparedFacts(question),
    ...handFacts(),
    ...atWallFacts(question),
    ...inHallFacts(question),
    ...laneFacts(question),
  } satisfies Record<string, Fact>
})

/** A second place of the table, straight behind, m. */
const movedOutdoors = { xM: 0, zM: -8 }

/** The pair of the lesson, what goes wrong with it, and the table moved. */
function pairFacts(question: SteerQuestion) {
  const { rig } = question
  const at = (change: Partial<SteerQuestion> = {}): SteerAnswer => steerAnswerInFull({ ...question, ...change })
  const changed = (change: Partial<SteerSet>) => at({ set: { ...lessonSet, ...change } }).merits
  const { widthM, depthM } = boxOf(rig)
  const [pair, far] = [steerAnswerInFull(question, { wall: true }), at({ behind: movedOutdoors })]
  const polarity = needed(pair.errors.polarity, 'the wrong polarity')
  const { spacingM, delayS } = lessonSet
  const at40 = needed(
    pair.bands.find(({ bandHz }) => bandHz === 40),
    'the band of 40 Hz',
  )
  return {
    ...meritFacts('pair', pair.merits, 'rejection', 'loss', 'cut'),
    ...usableFacts('pair', pair.merits),
    ...meritFacts('late', needed(pair.errors.late, 'a late box'), 'rejection', 'loss', 'cut'),
    ...meritFacts('quiet', needed(pair.errors.quiet, 'a quiet box'), 'rejection', 'loss', 'cut'),
    ...meritFacts('polarity', polarity, 'rejection', 'loss', 'cut'),
    ...meritFacts('wall', needed(pair.errors.wall, 'the wall as an error'), 'rejection', 'loss', 'cut'),
    ...meritFacts('points', at({ point: true }).merits, 'rejection'),
    ...meritFacts('turned', at({ set: turnedOnly }).merits, 'loss', 'cut'),
    ...bandFacts(pair),
    'stack-floor': squareMetres(widthM * depthM),
    spacing: metres(spacingM),
    'double-delay': milliseconds(2 * delayOfSpacingS(spacingM, lessonSpeedMps)),
    'ms-per-metre': milliseconds(1 / lessonSpeedMps),
    'cm-per-ms': metres(lessonSpeedMps / 1000),
    'speed-of-sound': metresPerSecond(lessonSpeedMps),
    'front-distance': metres(question.front.zM),
    'table-distance': metres(-question.behind.zM),
    'early-cut': decibels(changed({ delayS: delayS - steerErrorSize.lateS }).behindCutDb),
    'loud-cut': decibels(changed({ levelDb: steerErrorSize.quietDb }).behindCutDb),
    'polarity-rise': decibels(pair.merits.behindCutDb - polarity.behindCutDb),
    'power-for-loss': times(10 ** (pair.merits.frontLossDb / 10)),
    'power-at-40': times(10 ** (at40.frontLossDb / 10)),
    'stack-gain': decibels(20 * Math.log10(2)),
    'second-box-gain': decibels(20 * Math.log10(2) - pair.merits.frontLossDb),
    'late-limit-63': decibels(-lateLevelDb(63)),
    'late-limit-100': decibels(-lateLevelDb(100)),
    'quiet-limit': decibels(-20 * Math.log10((1 - 10 ** (-steerErrorSize.quietDb / 20)) / 2)),
    'wall-gap': metres(steerErrorSize.wallGapM),
    'far-distance': metres(-movedOutdoors.zM),
    'far-cut': decibels(far.merits.behindCutDb),
    'move-distance': metres(-movedOutdoors.zM),
    'move-saves': decibels(stackedBehindDb(pair, question) - stackedBehindDb(far, question)),
    // On hard ground outdoors the stack falls by 6 dB per doubling of distance; to the metre, because that is a rule.
    'as-far-as': metres(Math.round(-question.behind.zM * 10 ** (pair.merits.behindCutDb / 20))),
  } satisfies Record<string, Fact>
}

/** Two waves against each other, one late by the error's time: what is left, dB re both in step. |1 − e^{−jωτ}|/2 = |sin πfτ|. */
const lateLevelDb = (frequencyHz: number): number =>
  20 * Math.log10(Math.sin(Math.PI * frequencyHz * steerErrorSize.lateS))

/** Third octaves of the lesson's table of the pair, nominal Hz. */
export const pairTableHz = [31.5, 40, 50, 63, 80, 100, 125] as const

const bandFacts = ({ bands }: SteerAnswer) =>
  factsBy(
    pairTableHz.flatMap((nominalHz) => {
      const row = needed(
        bands.find(({ bandHz }) => bandHz === nominalHz),
        `the band of ${nominalHz} Hz`,
      )
      const facts: [`${'rejection' | 'loss' | 'cut'}-${(typeof pairTableHz)[number]}`, Fact][] = [
        [`rejection-${nominalHz}`, decibels(row.rejectionDb)],
        [`loss-${nominalHz}`, decibels(row.frontLossDb)],
        [`cut-${nominalHz}`, decibels(row.behindCutDb)],
      ]
      return facts
    }),
  )
