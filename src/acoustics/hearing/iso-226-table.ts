/** Parameters of the equal-loudness contours at one frequency. */
export type ContourParameters = {
  frequencyHz: number
  /** Exponent of loudness perception α_f, dimensionless. */
  alpha: number
  /** Magnitude of the linear transfer function L_U, normalised at 1 kHz, dB. */
  transferDb: number
  /** Threshold of hearing T_f, dB re 20 µPa. */
  thresholdDb: number
}

const rows: [frequencyHz: number, alpha: number, transferDb: number, thresholdDb: number][] = [
  [20, 0.635, -31.5, 78.1],
  [25, 0.602, -27.2, 68.7],
  [31.5, 0.569, -23.1, 59.5],
  [40, 0.537, -19.3, 51.1],
  [50, 0.509, -16.1, 44.0],
  [63, 0.482, -13.1, 37.5],
  [80, 0.456, -10.4, 31.5],
  [100, 0.433, -8.2, 26.5],
  [125, 0.412, -6.3, 22.1],
  [160, 0.391, -4.6, 17.9],
  [200, 0.373, -3.2, 14.4],
  [250, 0.357, -2.1, 11.4],
  [315, 0.343, -1.2, 8.6],
  [400, 0.33, -0.5, 6.2],
  [500, 0.32, 0.0, 4.4],
  [630, 0.311, 0.4, 3.0],
  [800, 0.303, 0.5, 2.2],
  [1000, 0.3, 0.0, 2.4],
  [1250, 0.295, -2.7, 3.5],
  [1600, 0.292, -4.2, 1.7],
  [2000, 0.29, -1.2, -1.3],
  [2500, 0.29, 1.4, -4.2],
  [3150, 0.289, 2.3, -6.0],
  [4000, 0.289, 1.0, -5.4],
  [5000, 0.289, -2.3, -1.5],
  [6300, 0.293, -7.2, 6.0],
  [8000, 0.303, -11.2, 12.6],
  [10000, 0.323, -10.9, 13.9],
  [12500, 0.354, -3.5, 12.3],
]

/** The 29 rows of the table, at the nominal third-octave frequencies. Source: ISO 226:2023, Table 1. */
export const contourTable: readonly ContourParameters[] = rows.map(([frequencyHz, alpha, transferDb, thresholdDb]) => ({
  frequencyHz,
  alpha,
  transferDb,
  thresholdDb,
}))
