import * as say from './figure.messages.ts'

/**
 * What is said when one kind of question has no answer.
 *
 * @param lastStays  whether an earlier answer is shown all the same
 */
export const problemSentence = (what: string, reason: string, lastStays: boolean): string =>
  lastStays ? say.problemLastStays({ what, reason }) : say.problem({ what, reason })

/** What is said when the solved boxes of a rig cannot be had and a hard ball answers in their place. */
export const standInSentence = (reason: string): string => say.ballStandsIn({ reason })

/** A sentence whose numbers come from a stand-in says so itself. */
export const markedSentence = (sentence: string, standsIn: boolean): string =>
  standsIn ? say.forBall({ sentence }) : sentence
