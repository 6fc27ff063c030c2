/** A wave picture on a grid, a row for each column of the screen: real and imaginary part, 1 = as strong as in front at the same distance. */
export type WaveCells = { columns: number; rows: number; re: Float32Array; im: Float32Array; inside: Uint8Array }

/** The instant that a held picture shows. */
export const stillPhaseRad = 0.6

/** How dark a crest as strong as in front is drawn, 0 … 1. */
const crestOpacity = 0.62

/**
 * Writes the opacity of every cell at one instant into the fourth byte of RGBA pixels in screen order: pressure above the mean is ink,
 * below it is paper, so that a quiet place is blank. Read as the grid has them, because it is done for every frame.
 *
 * @param phaseRad    2π × frequency × time; the picture is Re(p e^{jωt})
 * @param firstPixel  where the picture begins
 */
export function shadeWaves(
  { columns, rows, re, im, inside }: WaveCells,
  phaseRad: number,
  pixels: Uint8ClampedArray,
  firstPixel = 0,
): void {
  const cos = Math.cos(phaseRad)
  const sin = Math.sin(phaseRad)
  for (let row = 0, cell = 0; row < rows; row++) {
    let byte = 4 * (firstPixel + row) + 3
    for (let column = 0; column < columns; column++, cell++, byte += 4 * rows) {
      const pressure = (re[cell] as number) * cos - (im[cell] as number) * sin
      pixels[byte] = inside[cell] || pressure <= 0 ? 0 : Math.min(1, pressure) * crestOpacity * 255
    }
  }
}

/** Levels re the front between paper and deep ink, dB. */
export type ShadeSpan = { fromDb: number; toDb: number }
export const usualSpan: ShadeSpan = { fromDb: -24, toDb: 6 }
/** Before a wall a low note is nowhere far below the front: what there is spans the ramp. */
export const wallSpan: ShadeSpan = { fromDb: -10, toDb: 8 }

/** How dark a level re the front is drawn: an even ramp in dB from paper to deep ink, 0 … 1. */
export const levelOpacity = (levelDb: number, { fromDb, toDb }: ShadeSpan = usualSpan): number =>
  0.6 * Math.min(1, Math.max(0, (levelDb - fromDb) / (toDb - fromDb)))
