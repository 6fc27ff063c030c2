/** What is said when one kind of question has no answer. */
export const problemSentence = (what: string, reason: string): string =>
  `The ${what} could not be computed; the last one stays, with what it was computed for. (${reason})`

/** What is said when the solved boxes of a rig cannot be had and a hard ball answers in their place. */
export const standInSentence = (reason: string): string =>
  `A hard ball of the same surface stands in for the boxes of this rig, because their solution could not be fetched (${reason}). Behind a ball it is quieter than behind a box, by 10 dB and more in the treble.`

/** A sentence whose numbers come from a stand-in says so itself. */
export const markedSentence = (sentence: string, standsIn: boolean): string =>
  standsIn ? `For a hard ball in place of the boxes: ${sentence}` : sentence
