import { closeDb, missWords } from '../column/describe-guess-column.ts'
import * as say from './guess-hall.messages.ts'

/** Two guesses and what was computed for them: treble behind, dB re in front. */
export type HallGuess = { bareDb: number; curtainsDb: number }

/** How both guesses lay, in words, and what that says. `freeAirDb`: the same place in free air. */
export function guessHallVerdict(guess: HallGuess, computed: HallGuess, freeAirDb: number): string {
  const bare = Math.round(guess.bareDb - computed.bareDb)
  const curtains = Math.round(guess.curtainsDb - computed.curtainsDb)
  const misses = say.misses({ bare: missWords(bare), curtains: missWords(curtains) })
  return `${misses} ${lesson(bare, curtains)} ${say.inFreeAir({ decibels: Math.round(-freeAirDb) })}`
}

function lesson(bareMissDb: number, curtainsMissDb: number): string {
  if (bareMissDb < -closeDb) return say.bareGuessedLow()
  if (curtainsMissDb < -closeDb) return say.curtainsGuessedLow()
  if (curtainsMissDb > closeDb) return say.curtainsGuessedHigh()
  return bareMissDb > closeDb ? say.bareGuessedHigh() : say.bothKnown()
}
