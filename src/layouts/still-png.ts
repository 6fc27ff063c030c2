// Pictures made at build, as PNGs: what is seen without JavaScript and until the live ones are there. Black ink with opacity: the page turns
// it light on a dark paper.
import { encode } from 'fast-png'
import { inScreenOrder } from '../charts/screen-order.ts'
import { levelOpacity, type ShadeSpan, shadeWaves, stillPhaseRad, type WaveCells } from '../charts/wave-shade.ts'

/** Waves at one instant; pictures of equal width are stacked from top to bottom. */
export function waveStill(pictures: readonly WaveCells[]): Response {
  const acrossPx = pictures[0]?.rows ?? 0
  const downPx = pictures.reduce((sum, { columns }) => sum + columns, 0)
  const pixels = new Uint8ClampedArray(4 * acrossPx * downPx)
  let firstPixel = 0
  for (const picture of pictures) {
    shadeWaves(picture, stillPhaseRad, pixels, firstPixel)
    firstPixel += picture.re.length
  }
  return inkPng(acrossPx, downPx, (pixel) => pixels[4 * pixel + 3] ?? 0)
}

/** A map of levels: one row per z, one column per place across it; nothing is drawn where `inside` is 1. */
export function levelStill(
  { levelDb, inside, columns, rows }: { levelDb: Float32Array; inside: Uint8Array; columns: number; rows: number },
  span?: ShadeSpan,
): Response {
  const levels = inScreenOrder(levelDb, columns, rows)
  const covered = inScreenOrder(inside, columns, rows)
  return inkPng(rows, columns, (pixel) =>
    covered[pixel] ? 0 : Math.round(255 * levelOpacity(levels[pixel] as number, span)),
  )
}

function inkPng(width: number, height: number, opacityOf: (pixel: number) => number): Response {
  const data = new Uint8Array(2 * width * height)
  for (let pixel = 0; pixel < width * height; pixel++) data[2 * pixel + 1] = opacityOf(pixel)
  const png = encode({ width, height, data, channels: 2, depth: 8 })
  return new Response(new Uint8Array(png), { headers: { 'Content-Type': 'image/png' } })
}
