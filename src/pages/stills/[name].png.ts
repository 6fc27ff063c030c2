// The first picture of each walk-round as a PNG, made at build: what is seen without JavaScript and until the live one is there.
import type { APIRoute, GetStaticPaths } from 'astro'
import type { Rig } from '../../acoustics/index.ts'
import { planPicture } from '../../engine/questions/walk/walk-picture.ts'
import { loadSolvedRig } from '../../engine/scene/solved-gear.ts'
import { waveStill } from '../../layouts/still-png.ts'
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
  const pictures = parts.map((part) => {
    const picture = planPicture({ rig, kind: 'waves', ...part })
    if (picture.kind !== 'waves') throw new Error('A still shows waves')
    return picture
  })
  return waveStill(pictures)
}
