import * as say from './words.messages.ts'

/** Where a listener is, in words that fit behind "You are 2 m …". Degrees from straight ahead, −180 to 180. */
export function directionWords(angleDeg: number): string {
  const away = Math.abs(angleDeg)
  if (away <= 22.5) return say.inFrontOf()
  if (away <= 67.5) return say.inFrontAndToTheSideOf()
  if (away <= 112.5) return say.beside()
  if (away <= 157.5) return say.behindAndToTheSideOf()
  return say.behind()
}

/** The same as one of three places, for labels on lines: the case of a message. */
export function placeWord(angleDeg: number): 'front' | 'side' | 'behind' {
  const away = Math.abs(angleDeg)
  return away <= 67.5 ? 'front' : away <= 112.5 ? 'side' : 'behind'
}
