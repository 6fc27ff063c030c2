import { planPicture, walkAnswer, walkResponses } from './walk.ts'

/** Everything that can be asked off the main thread: name → pure function. */
export const tasks = { walkAnswer, planPicture, walkResponses }

export type TaskName = keyof typeof tasks
export type Question<N extends TaskName> = Parameters<(typeof tasks)[N]>[0]
export type Answer<N extends TaskName> = ReturnType<(typeof tasks)[N]>
