import * as say from './guess-column.messages.ts'

/** Two guesses and what was computed for them, dB re straight in front. */
export type ColumnGuess = { bassBehindDb: number; aboveDb: number }

/** Misses up to this count as right, dB. */
export const closeDb = 3

/** How both guesses lay, in words, and what that says. */
export function guessColumnVerdict(guess: ColumnGuess, computed: ColumnGuess): string {
  const behind = Math.round(guess.bassBehindDb - computed.bassBehindDb)
  const above = Math.round(guess.aboveDb - computed.aboveDb)
  return `${say.misses({ behind: missWords(behind), above: missWords(above) })} ${lesson(behind, above)}`
}

/** How one guess lay: 'you were 5 dB too low'. */
export function missWords(missDb: number): string {
  if (Math.abs(missDb) <= closeDb) return say.within({ decibels: closeDb })
  return say.off({ decibels: Math.abs(missDb), high: missDb > 0 })
}

function lesson(behindMissDb: number, aboveMissDb: number): string {
  if (behindMissDb < -closeDb) return say.behindGuessedLow()
  if (behindMissDb > closeDb) return say.behindGuessedHigh()
  if (aboveMissDb > closeDb) return say.aboveGuessedHigh()
  return aboveMissDb < -closeDb ? say.aboveGuessedLow() : say.bothKnown()
}
