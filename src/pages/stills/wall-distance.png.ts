// The first picture of the wall as a PNG, made at build: what is seen without JavaScript and until the live one is there.
import type { APIRoute } from 'astro'
import { wallSpan } from '../../charts/wave-shade.ts'
import { wallPicture } from '../../engine/questions/wall/wall-picture.ts'
import { loadSolvedRig } from '../../engine/scene/solved-gear.ts'
import { levelStill } from '../../layouts/still-png.ts'
import { demoRigs } from '../../widgets/rig-choice/demo-rigs.ts'
import { firstWallState, questionOf } from '../../widgets/wall-distance/wall-distance-link.ts'

export const GET: APIRoute = async () => {
  const [first] = await demoRigs()
  if (!first) throw new Error('No rig in content/gear')
  const { key, rig } = first
  await loadSolvedRig(rig)
  return levelStill(wallPicture(questionOf(firstWallState([key], rig), rig)), wallSpan)
}
