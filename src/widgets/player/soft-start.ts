/** How a sound that starts comes up to its volume: so far below it, dB, one after the other. */
export const riseSteps = { everyMs: 100, depthsDb: [18, 16, 14, 12, 10, 8, 7, 6, 5, 4, 3, 2, 1] } as const

/**
 * By how much bass alone is raised at both places, dB. It is a small part of the noise's power, and the ear is weak there.
 */
export const bassRaisedDb = 12
