// What the guess of a delay shares with its calculation, without fetching the calculation itself.

/** Delays of the rear box that a reader guesses among, ms: steps of 0.1 ms to 10 ms. */
export const guessDelaysMs: readonly number[] = Array.from({ length: 101 }, (_, step) => step / 10)

/** So near to a delay counts as meant, ms: the error that the lesson calls large. */
export const guessHitMs = 0.3

/** What the guess is held against: the pair of the lesson. Cuts and losses are positive where the pair is quieter than the stack, dB. */
export type SteerGuess = {
  spacingM: number
  /** Time that sound needs from box to box, ms. */
  travelMs: number
  /** The delay of the guess at which the table is quietest, ms. */
  bestMs: number
  box: { heightM: number; depthM: number }
  tableM: number
  /** Behind and in front, at each of guessDelaysMs with the rear box inverted. */
  cutsDb: number[]
  lossesDb: number[]
  /** The rear box turned round, neither late nor inverted. */
  turnedOnly: { cutDb: number; lossDb: number }
}
