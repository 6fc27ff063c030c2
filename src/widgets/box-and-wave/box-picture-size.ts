/** The plan shows this much to every side of the middle of the box's front, m. */
export const planHalfM = 2

/** Cells of a picture across the plan, odd; at 4 kHz a wave is then five cells long. */
export const pictureCells = 241
