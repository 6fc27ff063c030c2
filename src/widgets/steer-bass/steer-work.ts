import { withErrorWall } from '../../engine/questions/steer/steer-boxes.ts'
import {
  isMirrored,
  type SteerAnswer,
  type SteerPicture,
  type SteerQuestion,
  type SteerShow,
} from '../../engine/questions/steer/steer-terms.ts'
import type { SteerTogetherSolved } from '../../engine/questions/steer/together-lines.ts'
import type { Engine } from '../../engine/workers/engine.ts'
import type { Asking } from '../figure/asked.svelte.ts'
import type { SolvedSets, Solving } from './solved-sets.ts'

/** Whether the set is to be solved as one body where it stands. */
export const isSolvedHere = ({ point, surroundings }: SteerQuestion): boolean => !point && isMirrored(surroundings)

/**
 * The figure's answer: first of each box alone, said to be that; then as one body; then with the wall of the error.
 *
 * @param isTold  whether what is told now is of boxes that stand so, as one body: then nothing less is told in between
 */
export async function answerFor(
  asking: Asking<SteerAnswer>,
  question: SteerQuestion,
  solved: SolvedSets,
  isTold: boolean,
): Promise<SteerAnswer | undefined> {
  const { ask, show } = asking
  if (!isSolvedHere(question)) return ask('steerAnswer', question)
  if (!isTold && !solved.stepsOf(question)) {
    const alone = await ask('steerAnswer', question)
    if (!alone) return undefined
    show(alone)
  }
  const steps = await solved.solve(asking, question)
  if (!steps) return undefined
  // Nothing to solve: boxes that all but touch, or with a port behind.
  if (steps.length === 0) return ask('steerAnswer', question)
  const walled = question.surroundings.kind === 'outdoors' ? withErrorWall(question) : undefined
  if (walled && !solved.stepsOf(walled) && question.error !== 'wall') {
    const open = await ask('steerAnswer', { ...question, asBody: { steps } })
    if (!open) return undefined
    show(open)
  }
  const walledSteps = walled && (await solved.solve(asking, walled))
  if (walled && !walledSteps) return undefined
  return ask('steerAnswer', { ...question, asBody: { steps, ...(walledSteps && { walled: walledSteps }) } })
}

/** The plan's picture: of each box alone first, unless the boxes last solved stand so; then as one body where there is one. */
export async function pictureFor(
  { ask, show }: Asking<SteerPicture>,
  question: SteerQuestion & { show: SteerShow },
  isReady: boolean,
): Promise<SteerPicture | undefined> {
  const isBody = isSolvedHere(question)
  if (!isReady || !isBody) {
    const alone = await ask('steerPicture', question)
    if (!alone || !isBody) return alone
    show(alone)
  }
  return ask('steerPicture', { ...question, asBody: true })
}

/** What the sound is made from: steps of the set with what goes wrong; none where each box is heard as alone, null when the question was left. */
export async function stepsHeard(
  engine: Engine,
  question: SteerQuestion,
  solved: SolvedSets,
): Promise<{ steps?: SteerTogetherSolved[] } | null> {
  if (!isSolvedHere(question)) return {}
  const isWalled = question.error === 'wall' && question.surroundings.kind === 'outdoors'
  const asking: Solving = {
    ask: (task, asked) => engine.ask(`sound ${task}`, task, asked),
    askEach: (task, asked, onAnswer) => engine.askEach(`sound ${task} each`, task, asked, onAnswer),
  }
  const steps = await solved.solve(asking, isWalled ? withErrorWall(question) : question)
  if (!steps) return null
  return steps.length > 0 ? { steps } : {}
}
