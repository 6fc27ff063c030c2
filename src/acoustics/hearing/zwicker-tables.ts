// The tables of the loudness method. Source: ISO 532-1:2017, Annex A, Tables A.3 to A.9 (the same numbers as DIN 45631:1991).

/** Upper ends of the level ranges of the low-frequency correction, dB (RAP). */
export const lowRangeLimitDb: readonly number[] = [45, 55, 65, 71, 80, 90, 100, 120]

/** Correction of the 11 bands from 25 Hz to 250 Hz in each level range, dB (DLL). */
export const lowCorrectionDb: readonly (readonly number[])[] = [
  [-32, -24, -16, -10, -5, 0, -7, -3, 0, -2, 0],
  [-29, -22, -15, -10, -4, 0, -7, -2, 0, -2, 0],
  [-27, -19, -14, -9, -4, 0, -6, -2, 0, -2, 0],
  [-25, -17, -12, -9, -3, 0, -5, -2, 0, -2, 0],
  [-23, -16, -11, -7, -3, 0, -4, -1, 0, -1, 0],
  [-20, -14, -10, -6, -3, 0, -4, -1, 0, -1, 0],
  [-18, -12, -9, -6, -2, 0, -3, -1, 0, -1, 0],
  [-15, -10, -8, -4, -2, 0, -3, -1, 0, -1, 0],
]

/** Critical band (0, 1 or 2) that each of the 11 low third octaves goes into: 25–80 Hz, 100–160 Hz, 200 and 250 Hz. */
export const lowBandGroup: readonly number[] = [0, 0, 0, 0, 0, 0, 1, 1, 1, 2, 2]

/** Transmission from free field to inner ear of the 20 critical bands, dB (a₀). */
export const transmissionDb: readonly number[] = [
  0, 0, 0, 0, 0, 0, 0, 0, 0, 0, -0.5, -1.6, -3.2, -5.4, -5.6, -4, -1.5, 2, 5, 12,
]

/** Level at which a diffuse field is as loud as a free one, difference in the 20 critical bands, dB (dDF). */
export const diffuseFieldDb: readonly number[] = [
  0, 0, 0.5, 0.9, 1.2, 1.6, 2.3, 2.8, 3, 2, 0, -1.4, -2, -1.9, -1, 0.5, 3, 4, 4.3, 4,
]

/** Excitation at the threshold in quiet of the 20 critical bands, dB (LTQ). */
export const thresholdInQuietDb: readonly number[] = [30, 18, 12, 8, 7, 6, 5, 4, 3, 3, 3, 3, 3, 3, 3, 3, 3, 3, 3, 3]

/** Correction from third-octave level to critical-band level of the 20 critical bands, dB (DCB). */
export const bandwidthDb: readonly number[] = [
  -0.25, -0.6, -0.8, -0.8, -0.5, 0, 0.5, 1.1, 1.5, 1.7, 1.8, 1.8, 1.7, 1.6, 1.4, 1.2, 0.8, 0.5, 0, -0.5,
]

/** Upper limits of the 20 critical bands, and the end of the scale, Bark (zup). */
export const upperLimitBark: readonly number[] = [
  0.9, 1.8, 2.8, 3.5, 4.4, 5.4, 6.6, 7.9, 9.2, 10.6, 12.3, 13.8, 15.2, 16.7, 18.1, 19.3, 20.6, 21.8, 22.7, 23.6, 24,
]

/** Lower ends of the ranges of specific loudness that the upper slopes are given for, sone/Bark (RNS). */
export const slopeRangeLimit: readonly number[] = [
  21.5, 18, 15.1, 11.5, 9, 6.1, 4.4, 3.1, 2.13, 1.36, 0.82, 0.42, 0.3, 0.22, 0.15, 0.1, 0.035, 0,
]

/**
 * Steepness of the upper slopes, sone/Bark per Bark (USL): one row a range of specific loudness, one column a critical
 * band, from the second; the last column serves the ninth band and all above. Row 13, fifth column: 0.22 as in the
 * standard's own program; some older listings of the method have 0.24.
 */
export const upperSlope: readonly (readonly number[])[] = [
  [13, 8.2, 6.3, 5.5, 5.5, 5.5, 5.5, 5.5],
  [9, 7.5, 6, 5.1, 4.5, 4.5, 4.5, 4.5],
  [7.8, 6.7, 5.6, 4.9, 4.4, 3.9, 3.9, 3.9],
  [6.2, 5.4, 4.6, 4, 3.5, 3.2, 3.2, 3.2],
  [4.5, 3.8, 3.6, 3.2, 2.9, 2.7, 2.7, 2.7],
  [3.7, 3, 2.8, 2.35, 2.2, 2.2, 2.2, 2.2],
  [2.9, 2.3, 2.1, 1.9, 1.8, 1.7, 1.7, 1.7],
  [2.4, 1.7, 1.5, 1.35, 1.3, 1.3, 1.3, 1.3],
  [1.95, 1.45, 1.3, 1.15, 1.1, 1.1, 1.1, 1.1],
  [1.5, 1.2, 0.94, 0.86, 0.82, 0.82, 0.82, 0.82],
  [0.72, 0.67, 0.64, 0.63, 0.62, 0.62, 0.62, 0.62],
  [0.59, 0.53, 0.51, 0.5, 0.42, 0.42, 0.42, 0.42],
  [0.4, 0.33, 0.26, 0.24, 0.22, 0.22, 0.22, 0.22],
  [0.27, 0.21, 0.2, 0.18, 0.17, 0.17, 0.17, 0.17],
  [0.16, 0.15, 0.14, 0.12, 0.11, 0.11, 0.11, 0.11],
  [0.12, 0.11, 0.1, 0.08, 0.08, 0.08, 0.08, 0.08],
  [0.09, 0.08, 0.07, 0.06, 0.06, 0.06, 0.06, 0.05],
  [0.06, 0.05, 0.03, 0.02, 0.02, 0.02, 0.02, 0.02],
]
