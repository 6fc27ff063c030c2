import { interferenceLanesM } from '../../../acoustics/field/interference-lanes.ts'
import { airOf, usualAir } from '../../scene/air.ts'
import { movedTablePlace, tablePlace } from '../../scene/demo-hall.ts'
import { demoHallStates } from '../../scene/hall-content.ts'
import { earHeightM } from '../../scene/scene-terms.ts'
import { decibels, type Fact, factsBy, metres, needed } from '../fact.ts'
import { type Merit, meritFacts } from './merit-facts.ts'
import { steerAnswerInFull } from './solved-set.ts'
import { sizeOf, wallZMOf } from './steer-boxes.ts'
import { lessonSet } from './steer-lesson.ts'
import { type SteerAnswer, type SteerQuestion, type SteerSet, steerLinesHz } from './steer-terms.ts'

/** Distances from the rearmost face to the wall in the lesson's table, m, and how far before the wall its table stands. */
export const wallTableGapsM = { close: 0.5, short: 1, usual: 2, long: 4 } as const
type WallRow = keyof typeof wallTableGapsM
export const tableOffWallM = 0.3

/** The pair before a wall, the table a little off the wall, and the same table without the wall. */
export function atWallFacts(question: SteerQuestion) {
  const size = sizeOf(question)
  const facts = factsBy(
    (Object.keys(wallTableGapsM) as WallRow[]).flatMap((row) => {
      const surroundings = { kind: 'wall', gapM: wallTableGapsM[row], floor: 'hard' } as const
      const behind = { xM: 0, zM: needed(wallZMOf(question.set, size, surroundings), 'a wall') + tableOffWallM }
      const { merits } = steerAnswerInFull({ ...question, surroundings, behind })
      const open = steerAnswerInFull({ ...question, behind }).merits
      const entries: [`${'gap' | Merit | 'open'}-wall-${WallRow}`, Fact][] = [
        [`gap-wall-${row}`, metres(surroundings.gapM)],
        [`rejection-wall-${row}`, decibels(merits.rejectionDb)],
        [`loss-wall-${row}`, decibels(merits.frontLossDb)],
        [`cut-wall-${row}`, decibels(merits.behindCutDb)],
        [`open-wall-${row}`, decibels(open.rejectionDb)],
      ]
      return entries
    }),
  )
  const close = (merit: Merit) => facts[`${merit}-wall-close`].value
  return {
    ...facts,
    'table-off-wall': metres(tableOffWallM),
    // By the definitions the stack's own rejection is the set's, and its front loss, less its cut behind.
    'wall-stack-rejection': decibels(close('rejection') + close('loss') - close('cut')),
  }
}

/** The pair in the empty timber hall with the tables along the wall behind, and the stack with the tables moved along that wall. */
export function inHallFacts(question: SteerQuestion) {
  const timber = needed(
    demoHallStates.find(({ key }) => key === 'timber'),
    'a timber hall',
  )
  const surroundings = { kind: 'hall', design: timber.design } as const
  const here = steerAnswerInFull({ ...question, surroundings, behind: tablePlace })
  const moved = steerAnswerInFull({ ...question, surroundings, behind: movedTablePlace })
  const open = steerAnswerInFull({ ...question, behind: tablePlace })
  const cutsDb = here.bands.filter(({ bandHz }) => bandHz <= 125).map(({ behindCutDb }) => behindCutDb)
  return {
    ...meritFacts('hall', here.merits, 'loss', 'cut'),
    ...meritFacts('near', open.merits, 'cut'),
    'hall-move-distance': metres(movedTablePlace.xM),
    'hall-move-saves': decibels(stackedBehindDb(here, question) - stackedBehindDb(moved, question)),
    'hall-best': decibels(Math.max(...cutsDb)),
    'hall-worst': decibels(-Math.min(...cutsDb)),
    'hall-net': decibels(here.merits.behindCutDb - here.merits.frontLossDb),
    'hall-polarity-rise': decibels(
      here.merits.behindCutDb - needed(here.errors.polarity, 'the wrong polarity in the hall').behindCutDb,
    ),
  } satisfies Record<string, Fact>
}

/** Left and right of the lesson, m apart. */
const lanesSpacingM = 6

/** Listeners who stand about where the bass of such a pair is weakest, m to one side. */
const inWeakLaneM = 2.9

/** Where the lanes of a left–right pair lie at the front row's distance, to one side, and what one of them costs. */
export function laneFacts(question: SteerQuestion) {
  const set: SteerSet = {
    ...lessonSet,
    arrangement: 'left-right',
    spacingM: lanesSpacingM,
    delayS: 0,
    inverted: false,
  }
  const answerAt = (frequencyHz: number) => steerAnswerInFull({ ...question, set, frequencyHz })
  const lanes = (frequencyHz: number) => needed(answerAt(frequencyHz).lanes, 'lanes')
  const first = (offsetsM: number[]) =>
    needed(offsetsM.filter((offsetM) => offsetM > 0.01).sort((a, b) => a - b)[0], 'a first lane')
  const { strongM, weakM } = lanes(63)
  const inWeakLane = steerAnswerInFull({ ...question, set, front: { ...question.front, xM: inWeakLaneM } })
  // Ears are higher than the boxes, so the way to the line that joins the boxes is longer than on the floor.
  const distanceM = Math.hypot(question.front.zM, earHeightM)
  const inStep = interferenceLanesM({ spacingM: lanesSpacingM, distanceM, frequencyHz: 63 }, airOf(usualAir))
  return {
    ...meritFacts('left-right', answerAt(63).merits, 'rejection'),
    ...meritFacts('lane', inWeakLane.merits, 'loss'),
    'lane-spacing': metres(lanesSpacingM),
    'lane-distance': metres(question.front.zM),
    'lane-weak-63': metres(first(weakM)),
    'lane-peak-63': metres(first(strongM)),
    'lane-in-step-63': metres(first(inStep.strongM)),
    'lane-weak-80': metres(first(lanes(80).weakM)),
  } satisfies Record<string, Fact>
}

/** Level of the stack behind over the reader's band, as energy; pink noise has the same power in each of these lines. */
export function stackedBehindDb({ curves }: SteerAnswer, { band }: SteerQuestion): number {
  const inside = curves.stackedBehindDb.filter((_, i) => {
    const frequencyHz = steerLinesHz[i] as number
    return frequencyHz >= band.fromHz && frequencyHz <= band.toHz
  })
  return 10 * Math.log10(inside.reduce((sum, level) => sum + 10 ** (level / 10), 0) / inside.length)
}
