/** Address of the first picture of the wall, which is made at build. */
export const wallStill = '/stills/wall-distance.png'
