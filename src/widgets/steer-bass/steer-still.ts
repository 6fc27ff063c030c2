/** Arrangements that pages may begin with: each has a still. */
export const steerStillsOf = ['pair', 'left-right'] as const
export type StillArrangement = (typeof steerStillsOf)[number]

/** Address of the first picture of a set, which is made at build. */
export const steerStill = (arrangement: string): string => `/stills/steer-${arrangement}.png`
