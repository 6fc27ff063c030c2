/** 28 third-octave levels at random between two limits, dB. */
export const randomLevels = (random: () => number, fromDb: number, toDb: number): number[] =>
  Array.from({ length: 28 }, () => fromDb + (toDb - fromDb) * random())
