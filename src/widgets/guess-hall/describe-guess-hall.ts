/** Two guesses and what was computed for them: treble behind, dB re in front. */
export type HallGuess = { bareDb: number; curtainsDb: number }

/** Misses up to this count as right, dB. */
const closeDb = 3

/** How both guesses lay, in words, and what that says. `outdoorsDb`: the same place without a hall. */
export function guessHallVerdict(guess: HallGuess, computed: HallGuess, outdoorsDb: number): string {
  const bare = Math.round(guess.bareDb - computed.bareDb)
  const curtains = Math.round(guess.curtainsDb - computed.curtainsDb)
  return `Bare, ${missWords(bare)}; with curtains, ${missWords(curtains)}. ${lesson(bare, curtains)} Outdoors it would be about ${Math.round(-outdoorsDb)} dB down.`
}

function missWords(missDb: number): string {
  if (Math.abs(missDb) <= closeDb) return `you were within ${closeDb} dB`
  return `you were ${Math.abs(missDb)} dB too ${missDb > 0 ? 'high' : 'low'}`
}

function lesson(bareMissDb: number, curtainsMissDb: number): string {
  if (bareMissDb < -closeDb) return 'A bare hall carries far more treble behind the box than the box sends there.'
  if (curtainsMissDb < -closeDb) return 'Even with curtains most of the treble behind is the hall’s.'
  if (curtainsMissDb > closeDb) return 'Curtains take more of the treble behind than that.'
  if (bareMissDb > closeDb) return 'The hall does much, but it does not make behind into front.'
  return 'You know your halls.'
}
