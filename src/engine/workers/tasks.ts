import type { Rig } from '../../acoustics/index.ts'
import { blindResponses } from '../questions/blind/blind.ts'
import { boxPicture, boxResponses } from '../questions/box/box-and-wave.ts'
import { columnAnswer, columnHearing, columnPicture, columnResponses } from '../questions/column/column.ts'
import { hallAnswer, hallMap } from '../questions/hall/hall-parts.ts'
import { hornAnswer, hornResponses } from '../questions/horn/horn.ts'
import { ownBoxBand, ownBoxFirst } from '../questions/own-box/own-box.ts'
import { steerAnswer, steerPicture } from '../questions/steer/steer.ts'
import { steerResponses } from '../questions/steer/steer-responses.ts'
import { steerSearchPlan, steerSearchStep, steerSuggestion } from '../questions/steer/steer-search.ts'
import { steerTogether, steerTogetherPlan, steerTogetherStep } from '../questions/steer/steer-together.ts'
import { planPicture, walkAnswer, walkLoudness, walkResponses } from '../questions/walk/walk.ts'
import { wallAnswer, wallPicture, wallResponses } from '../questions/wall/wall.ts'
import { hallResponses } from '../scene/hall-responses.ts'
import { addSolvedCabinet, loadSolvedRig } from '../scene/solved-gear.ts'
import { solvedDirections, solvedLines, solvingPlan } from '../solving/solve-table.ts'

/** Everything that can be asked off the main thread: name → pure function. */
export const tasks = {
  walkAnswer,
  walkLoudness,
  planPicture,
  walkResponses,
  blindResponses,
  hornAnswer,
  hornResponses,
  boxPicture,
  boxResponses,
  ownBoxBand,
  ownBoxFirst,
  columnAnswer,
  columnPicture,
  columnHearing,
  columnResponses,
  wallAnswer,
  wallPicture,
  wallResponses,
  hallAnswer,
  hallMap,
  hallResponses,
  steerAnswer,
  steerPicture,
  steerSearchPlan,
  steerSearchStep,
  steerSuggestion,
  steerResponses,
  steerTogetherPlan,
  steerTogetherStep,
  steerTogether,
  solvingPlan,
  solvedLines,
  solvedDirections,
}

/** Takes in a cabinet that was solved elsewhere; see Engine.teach. */
export const learn = addSolvedCabinet

/**
 * Fetches what a question's rig needs before it is answered. If the solved cabinets cannot be had, the closed form answers
 * in their place, and the answer's own estimate limit says so.
 */
export async function prepare(question: unknown): Promise<void> {
  if (typeof question !== 'object' || question === null || !('rig' in question)) return
  await loadSolvedRig(question.rig as Rig).catch(() => {})
}

export type TaskName = keyof typeof tasks
export type Question<N extends TaskName> = Parameters<(typeof tasks)[N]>[0]
export type Answer<N extends TaskName> = ReturnType<(typeof tasks)[N]>
