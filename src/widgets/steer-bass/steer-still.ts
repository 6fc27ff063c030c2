/** Address of the first picture of the set, which is made at build. */
export const steerStill = '/stills/steer-the-bass.png'
