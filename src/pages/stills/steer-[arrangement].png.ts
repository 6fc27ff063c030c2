// The first pictures of steered bass as PNGs, made at build: what is seen without JavaScript and until the live one is there.
import type { APIRoute, GetStaticPaths } from 'astro'
import { encode } from 'fast-png'
import { inScreenOrder } from '../../charts/screen-order.ts'
import { levelOpacity } from '../../charts/wave-shade.ts'
import { steerPicture } from '../../engine/questions/steer/steer.ts'
import { demoHallStates } from '../../engine/scene/hall-content.ts'
import { loadSolvedRig } from '../../engine/scene/solved-gear.ts'
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
  const { columns, rows, levelDb, inside } = steerPicture({ ...question, show: 'set', asBody: true })
  const levels = inScreenOrder(levelDb, columns, rows)
  const covered = inScreenOrder(inside, columns, rows)
  // Black ink with opacity: the page turns it light on a dark paper.
  const data = new Uint8Array(2 * levels.length)
  levels.forEach((level, cell) => {
    data[2 * cell + 1] = covered[cell] ? 0 : Math.round(255 * levelOpacity(level))
  })
  const png = encode({ width: rows, height: columns, data, channels: 2, depth: 8 })
  return new Response(new Uint8Array(png), { headers: { 'Content-Type': 'image/png' } })
}
