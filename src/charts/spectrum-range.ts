/** The level range of every spectrum on the site, dB re the front's average: the same in figures that are compared. */
export const spectrumRangeDb: [number, number] = [-48, 12]
