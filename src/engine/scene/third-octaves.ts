import { type Band, thirdOctaveBands } from '../../acoustics/bands/octave-bands.ts'

// The one list of third octaves and its named parts. What a single question alone looks at is cut out in its own terms.

/** The third octaves that are heard: the 28 of the loudness method and two above them, which only the weightings count. */
export const heardBands: Band[] = thirdOctaveBands(25, 16000)

/**
 * Part of heardBands.
 *
 * @param fromNominalHz  nominal mid-band frequency of its first band, and of its last
 */
export const bandsBetween = (fromNominalHz: number, toNominalHz: number): Band[] =>
  heardBands.filter(({ nominalHz }) => nominalHz >= fromNominalHz && nominalHz <= toNominalHz)

/** The bands of every spectrum on the site, and of every choice of a band: 31.5 Hz to 16 kHz. */
export const spectrumBands: Band[] = bandsBetween(31.5, 16000)

/** The levels of spectrumBands among those of heardBands. */
export const spectrumOf = (levels: Float64Array): Float64Array =>
  levels.subarray(heardBands.length - spectrumBands.length)

/** Levels are told against the mean over these, by nominal mid-band frequency: what a rig is set flat over. */
export const passbandHz = { from: 100, to: 10000 } as const

/** The two groups of third octaves that the sentences speak of, by nominal mid-band frequency. */
export const bassHz = { from: 40, to: 160 } as const
export const trebleHz = { from: 2000, to: 16000 } as const

/** What lies between the two, where voices are. */
export const middleHz = { from: 200, to: 1600 } as const
