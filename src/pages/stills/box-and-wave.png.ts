// The first picture of the box and the wave as a PNG, made at build: what is seen without JavaScript and until the live one is there.
import type { APIRoute } from 'astro'
import { encode } from 'fast-png'
import { inScreenOrder } from '../../charts/screen-order.ts'
import { shadeWaves, stillPhaseRad } from '../../charts/wave-shade.ts'
import { boxPicture, boxShape } from '../../engine/questions/box/box-and-wave.ts'
import { defaultState } from '../../state/share-link.ts'
import { boxAndWaveLink } from '../../widgets/box-and-wave/box-and-wave-link.ts'
import { pictureCells, planHalfM } from '../../widgets/box-and-wave/box-picture-size.ts'
import { demoBox } from '../../widgets/box-and-wave/demo-boxes.ts'

export const GET: APIRoute = async () => {
  const { widthM, frequencyHz } = defaultState(boxAndWaveLink)
  const shape = boxShape(await demoBox('top'))
  const { re, im, inside, columns, rows } = boxPicture({
    shape,
    widthM,
    frequencyHz,
    halfM: planHalfM,
    cells: pictureCells,
    model: 'solved',
  })
  const cells = {
    re: inScreenOrder(re, columns, rows),
    im: inScreenOrder(im, columns, rows),
    inside: inScreenOrder(inside, columns, rows),
  }
  const opacity = new Uint8ClampedArray(4 * re.length)
  shadeWaves(cells, stillPhaseRad, opacity)
  // Black ink with opacity: the page turns it light on a dark paper.
  const data = new Uint8Array(2 * re.length)
  for (let cell = 0; cell < re.length; cell++) data[2 * cell + 1] = opacity[4 * cell + 3] ?? 0
  const png = encode({ width: rows, height: columns, data, channels: 2, depth: 8 })
  return new Response(new Uint8Array(png), { headers: { 'Content-Type': 'image/png' } })
}
