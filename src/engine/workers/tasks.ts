import type { ExpansionTable, Rig } from '../../acoustics/index.ts'

/**
 * Everything that can be asked off the main thread: name → where its code is. A question's code is fetched when it is first
 * asked, so that a page which asks little loads little.
 */
const code = {
  walkAnswer: async () => (await import('../questions/walk/walk.ts')).walkAnswer,
  walkLoudness: async () => (await import('../questions/walk/walk.ts')).walkLoudness,
  planPicture: async () => (await import('../questions/walk/walk-picture.ts')).planPicture,
  walkResponses: async () => (await import('../questions/walk/walk-responses.ts')).walkResponses,
  blindResponses: async () => (await import('../questions/blind/blind.ts')).blindResponses,
  hornAnswer: async () => (await import('../questions/horn/horn.ts')).hornAnswer,
  hornResponses: async () => (await import('../questions/horn/horn.ts')).hornResponses,
  boxPicture: async () => (await import('../questions/box/box-and-wave.ts')).boxPicture,
  boxResponses: async () => (await import('../questions/box/box-and-wave.ts')).boxResponses,
  ownBoxBand: async () => (await import('../questions/own-box/own-box.ts')).ownBoxBand,
  ownBoxKnown: async () => (await import('../questions/own-box/own-box.ts')).ownBoxKnown,
  columnAnswer: async () => (await import('../questions/column/column.ts')).columnAnswer,
  columnPicture: async () => (await import('../questions/column/column-picture.ts')).columnPicture,
  columnHearing: async () => (await import('../questions/column/column-hearing.ts')).columnHearing,
  columnResponses: async () => (await import('../questions/column/column-hearing.ts')).columnResponses,
  wallAnswer: async () => (await import('../questions/wall/wall.ts')).wallAnswer,
  wallPicture: async () => (await import('../questions/wall/wall-picture.ts')).wallPicture,
  wallResponses: async () => (await import('../questions/wall/wall-responses.ts')).wallResponses,
  hallAnswer: async () => (await import('../questions/hall/hall-parts.ts')).hallAnswer,
  hallMap: async () => (await import('../questions/hall/hall-map.ts')).hallMap,
  hallResponses: async () => (await import('../scene/hall-responses.ts')).hallResponses,
  steerAnswer: async () => (await import('../questions/steer/steer.ts')).steerAnswer,
  steerPicture: async () => (await import('../questions/steer/steer.ts')).steerPicture,
  steerSearchPlan: async () => (await import('../questions/steer/steer-search.ts')).steerSearchPlan,
  steerSearchStep: async () => (await import('../questions/steer/steer-search.ts')).steerSearchStep,
  steerWorthSolving: async () => (await import('../questions/steer/steer-search.ts')).steerWorthSolving,
  steerSuggestion: async () => (await import('../questions/steer/steer-search.ts')).steerSuggestion,
  steerResponses: async () => (await import('../questions/steer/steer-responses.ts')).steerResponses,
  steerTogetherPlan: async () => (await import('../questions/steer/steer-together.ts')).steerTogetherPlan,
  steerTogetherStep: async () => (await import('../questions/steer/steer-together.ts')).steerTogetherStep,
  steerTogether: async () => (await import('../questions/steer/steer-together.ts')).steerTogether,
  planAnswer: async () => (await import('../questions/plan/plan.ts')).planAnswer,
  planHint: async () => (await import('../questions/plan/plan-hint.ts')).planHint,
  planResponses: async () => (await import('../questions/plan/plan-responses.ts')).planResponses,
  planLevels: async () => (await import('../questions/plan/plan.ts')).planLevels,
  planMap: async () => (await import('../questions/plan/plan-map.ts')).planMap,
  planNeighbour: async () => (await import('../questions/plan/plan-neighbour.ts')).planNeighbour,
  recordingPlan: async () => (await import('../questions/compare/recording.ts')).recordingPlan,
  recordingPart: async () => (await import('../questions/compare/recording.ts')).recordingPart,
  bandTableFile: async () => (await import('../questions/compare/table-files.ts')).bandTableFile,
  microphoneFile: async () => (await import('../questions/compare/table-files.ts')).microphoneFile,
  takeSummary: async () => (await import('../questions/compare/take.ts')).takeSummary,
  compareAnswer: async () => (await import('../questions/compare/compare.ts')).compareAnswer,
  recordingSound: async () => (await import('../questions/compare/recording-sound.ts')).recordingSound,
  practiceFile: async () => (await import('../questions/compare/practice-file.ts')).practiceFile,
  faultAnswer: async () => (await import('../questions/compare/fault.ts')).faultAnswer,
  predictedAnswer: async () => (await import('../questions/compare/predicted.ts')).predictedAnswer,
  sentAnswer: async () => (await import('../questions/compare/sent.ts')).sentAnswer,
  sentNoise: async () => (await import('../questions/compare/sent.ts')).sentNoise,
  noiseFile: async () => (await import('../questions/compare/noise-file.ts')).noiseFile,
  sweepFile: async () => (await import('../questions/compare/sweep-file.ts')).sweepFile,
  practiceSweepFile: async () => (await import('../questions/compare/practice-sweep.ts')).practiceSweepFile,
  sweptPlan: async () => (await import('../questions/compare/sweep.ts')).sweptPlan,
  sweptResponse: async () => (await import('../questions/compare/sweep.ts')).sweptResponse,
  sweptPlace: async () => (await import('../questions/compare/sweep.ts')).sweptPlace,
  boxOrHallAnswer: async () => (await import('../questions/compare/box-or-hall.ts')).boxOrHallAnswer,
  cardAnswer: async () => (await import('../questions/card/card-facts.ts')).cardAnswer,
  phoneBlocks: async () => (await import('../questions/phone-walk/phone-walk.ts')).phoneBlocks,
  phoneHeld: async () => (await import('../questions/phone-walk/phone-walk.ts')).phoneHeld,
  phoneHere: async () => (await import('../questions/phone-walk/phone-walk.ts')).phoneHere,
  phoneWalkAnswer: async () => (await import('../questions/phone-walk/phone-walk.ts')).phoneWalkAnswer,
  phonePredicted: async () => (await import('../questions/phone-walk/phone-predicted.ts')).phonePredicted,
  phonePractice: async () => (await import('../questions/phone-walk/phone-practice.ts')).phonePractice,
  solvingPlan: async () => (await import('../solving/solve-table.ts')).solvingPlan,
  solvedLines: async () => (await import('../solving/solve-table.ts')).solvedLineGroup,
  solvedDirections: async () => (await import('../solving/solve-table.ts')).solvedDirections,
}

type Task<N extends TaskName> = Awaited<ReturnType<(typeof code)[N]>>
export type TaskName = keyof typeof code
export type Question<N extends TaskName> = Parameters<Task<N>>[0]
type Answers = { [N in TaskName]: Awaited<ReturnType<Task<N>>> }
export type Answer<N extends TaskName> = Answers[N]

/** An answer, and in plain words what had to stand in for something that could not be had. */
export type Reply = { answer: unknown; standIn?: string }

/** The code of a question could not be fetched. What failed to load once may fail for ever in the same worker. */
export class CodeMissing extends Error {}

/**
 * Fetches what a question needs, its code and its rig's solved cabinets, and answers it.
 *
 * @throws CodeMissing if the code cannot be fetched; else whatever the question throws
 */
export async function answer(task: TaskName, question: unknown): Promise<Reply> {
  const [work, standIn] = await Promise.all([
    code[task]().catch((error: unknown) => {
      throw new CodeMissing(`a part of this page could not be fetched: ${messageOf(error)}`)
    }),
    missingCabinets(question),
  ])
  return { answer: await work(question as never), ...(standIn !== undefined && { standIn }) }
}

/** Takes in a cabinet that was solved elsewhere; see Engine.teach. */
export async function learn(key: string, table: ExpansionTable): Promise<void> {
  const { addSolvedCabinet } = await import('../scene/solved-gear.ts')
  addSolvedCabinet(key, table)
}

/** Fetches the solved cabinets of a question's rig, or of its rigs. Returns why they are not there, if they are not: a hard ball then stands in. */
async function missingCabinets(question: unknown): Promise<string | undefined> {
  if (typeof question !== 'object' || question === null) return undefined
  const rigs = 'rig' in question ? [question.rig as Rig] : 'rigs' in question ? (question.rigs as Rig[]) : []
  if (rigs.length === 0) return undefined
  try {
    const { loadSolvedRig } = await import('../scene/solved-gear.ts')
    await Promise.all(rigs.map(loadSolvedRig))
    return undefined
  } catch (error) {
    return messageOf(error)
  }
}

export const messageOf = (error: unknown): string => (error instanceof Error ? error.message : String(error))
