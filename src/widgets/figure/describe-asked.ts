import * as say from './figure.messages.ts'

/** A sentence whose numbers come from a stand-in says so itself. */
export const markedSentence = (sentence: string, standsIn: boolean): string =>
  standsIn ? say.forBall({ sentence }) : sentence
