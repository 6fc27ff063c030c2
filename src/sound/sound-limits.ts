/** How long each thing that the sound waits for may take, s: what a slow phone on a slow line needs, with room. */
export const soundLimitsS = {
  /** Fetching the code that makes and plays sound. */
  code: 30,
  /** Making a loop; the music is synthesised, and where a rendering cannot be halted that takes longest. */
  loop: 90,
  /** The impulse responses of two places; in a hall they take longest. */
  responses: 90,
  /** From the press to a context that runs: waking a wireless headphone takes a second or two. */
  waking: 8,
} as const
