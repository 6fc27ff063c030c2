/** Two guesses and what was computed for them, dB re straight in front. */
export type ColumnGuess = { bassBehindDb: number; aboveDb: number }

/** Misses up to this count as right, dB. */
const closeDb = 3

/** How both guesses lay, in words, and what that says. */
export function guessColumnVerdict(guess: ColumnGuess, computed: ColumnGuess): string {
  const behind = Math.round(guess.bassBehindDb - computed.bassBehindDb)
  const above = Math.round(guess.aboveDb - computed.aboveDb)
  return `Behind, at 100 Hz, ${missWords(behind)}; above, at 1 kHz, ${missWords(above)}. ${lesson(behind, above)}`
}

function missWords(missDb: number): string {
  if (Math.abs(missDb) <= closeDb) return `you were within ${closeDb} dB`
  return `you were ${Math.abs(missDb)} dB too ${missDb > 0 ? 'high' : 'low'}`
}

function lesson(behindMissDb: number, aboveMissDb: number): string {
  if (behindMissDb < -closeDb)
    return 'The column does not keep its bass off the stage: a wave this long goes round it and over it.'
  if (behindMissDb > closeDb) return 'There is not more bass behind than in front. There is as much.'
  if (aboveMissDb > closeDb) return 'In height the column chooses already at 1 kHz: there it is longer than the wave.'
  if (aboveMissDb < -closeDb) return 'It chooses in height, but not that sharply yet.'
  return 'You knew it.'
}
