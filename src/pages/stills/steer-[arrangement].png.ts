// The first pictures of steered bass as PNGs, made at build: what is seen without JavaScript and until the live one is there.
import type { APIRoute, GetStaticPaths } from 'astro'
import { steerPicture } from '../../engine/questions/steer/steer.ts'
import { demoHallStates } from '../../engine/scene/hall-content.ts'
import { loadSolvedRig } from '../../engine/scene/solved-gear.ts'
import { levelStill } from '../../layouts/still-png.ts'
import { demoRigs } from '../../widgets/rig-choice/demo-rigs.ts'
import { questionOf } from '../../widgets/steer-bass/steer-bass-link.ts'
import { firstSteerState } from '../../widgets/steer-bass/steer-preset.ts'
import { type StillArrangement, steerStillsOf } from '../../widgets/steer-bass/steer-still.ts'

export const getStaticPaths = (() =>
  steerStillsOf.map((arrangement) => ({ params: { arrangement }, props: { arrangement } }))) satisfies GetStaticPaths

export const GET: APIRoute<{ arrangement: StillArrangement }> = async ({ props: { arrangement } }) => {
  const [first] = await demoRigs()
  if (!first) throw new Error('No rig in content/gear')
  await loadSolvedRig(first.rig)
  const question = questionOf(firstSteerState([first.key], arrangement, first.rig), first.rig, demoHallStates)
  return levelStill(steerPicture({ ...question, show: 'set', asBody: true }))
}
