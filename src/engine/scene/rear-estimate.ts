/**
 * How far off the level behind a box may be where it is an estimate, dB r.m.s. over the directions behind, third octaves:
 * the checks hold the demo boxes to it against boxes solved whole at 2 to 8 kHz. One direction may be off by some more.
 */
export const rearEstimateRmsDb = 3
