// The first picture of the box and the wave as a PNG, made at build: what is seen without JavaScript and until the live one is there.
import type { APIRoute } from 'astro'
import { boxPicture, boxShape } from '../../engine/questions/box/box-and-wave.ts'
import { waveStill } from '../../layouts/still-png.ts'
import { defaultState } from '../../state/share-link.ts'
import { boxAndWaveLink } from '../../widgets/box-and-wave/box-and-wave-link.ts'
import { pictureCells, planHalfM } from '../../widgets/box-and-wave/box-picture-size.ts'
import { demoBox } from '../../widgets/box-and-wave/demo-boxes.ts'

export const GET: APIRoute = async () => {
  const { widthM, frequencyHz } = defaultState(boxAndWaveLink)
  const shape = boxShape(await demoBox('top'))
  const picture = boxPicture({
    shape,
    widthM,
    frequencyHz,
    halfM: planHalfM,
    cells: pictureCells,
    model: 'solved',
  })
  return waveStill([picture])
}
