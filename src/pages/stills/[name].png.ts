// The first picture of each walk-round as a PNG, made at build: what is seen without JavaScript and until the live one is there.
import type { APIRoute, GetStaticPaths } from 'astro'
import { encode } from 'fast-png'
import type { Rig } from '../../acoustics/index.ts'
import { inScreenOrder } from '../../charts/screen-order.ts'
import { shadeWaves, stillPhaseRad } from '../../charts/wave-shade.ts'
import { planPicture } from '../../engine/questions/walk/walk-picture.ts'
import { loadSolvedRig } from '../../engine/scene/solved-gear.ts'
import { demoRigs } from '../../widgets/rig-choice/demo-rigs.ts'
import { type PictureParts, pictureParts } from '../../widgets/walk-round/picture-parts.ts'
import { stillFrequenciesHz, stillName } from '../../widgets/walk-round/walk-round-stills.ts'

export const getStaticPaths = (async () => {
  const rigs = await demoRigs()
  return rigs.flatMap(({ key, rig }) => {
    const still = (bands: 'two' | 'one', frequencyHz: number) => ({
      params: { name: stillName({ rig: key, bands, frequencyHz }) },
      props: { rig, parts: pictureParts(bands, frequencyHz) },
    })
    return [still('two', 0), ...stillFrequenciesHz.map((frequencyHz) => still('one', frequencyHz))]
  })
}) satisfies GetStaticPaths

export const GET: APIRoute<{ rig: Rig; parts: PictureParts }> = async ({ props: { rig, parts } }) => {
  await loadSolvedRig(rig)
  const cells = parts.map((part) => {
    const picture = planPicture({ rig, kind: 'waves', ...part })
    if (picture.kind !== 'waves') throw new Error('A still shows waves')
    const { columns, rows, re, im, inside } = picture
    return {
      re: inScreenOrder(re, columns, rows),
      im: inScreenOrder(im, columns, rows),
      inside: inScreenOrder(inside, columns, rows),
    }
  })
  const width = parts[0]?.grid.rows ?? 0
  const count = cells.reduce((sum, { re }) => sum + re.length, 0)
  const opacity = new Uint8ClampedArray(4 * count)
  let first = 0
  for (const part of cells) {
    shadeWaves(part, stillPhaseRad, opacity, first)
    first += part.re.length
  }
  // Black ink with opacity: the page turns it light on a dark paper.
  const data = new Uint8Array(2 * count)
  for (let cell = 0; cell < count; cell++) data[2 * cell + 1] = opacity[4 * cell + 3] ?? 0
  const png = encode({ width, height: count / width, data, channels: 2, depth: 8 })
  return new Response(new Uint8Array(png), { headers: { 'Content-Type': 'image/png' } })
}
