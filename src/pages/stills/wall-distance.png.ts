// The first picture of the wall as a PNG, made at build: what is seen without JavaScript and until the live one is there.
import type { APIRoute } from 'astro'
import { encode } from 'fast-png'
import { inScreenOrder } from '../../charts/screen-order.ts'
import { levelOpacity, wallSpan } from '../../charts/wave-shade.ts'
import { wallPicture } from '../../engine/questions/wall/wall-picture.ts'
import { loadSolvedRig } from '../../engine/scene/solved-gear.ts'
import { demoRigs } from '../../widgets/rig-choice/demo-rigs.ts'
import { firstWallState, questionOf } from '../../widgets/wall-distance/wall-distance-link.ts'

export const GET: APIRoute = async () => {
  const [first] = await demoRigs()
  if (!first) throw new Error('No rig in content/gear')
  const { key, rig } = first
  await loadSolvedRig(rig)
  const { columns, rows, levelDb, inside } = wallPicture(questionOf(firstWallState([key], rig), rig))
  const levels = inScreenOrder(levelDb, columns, rows)
  const covered = inScreenOrder(inside, columns, rows)
  // Black ink with opacity: the page turns it light on a dark paper.
  const data = new Uint8Array(2 * levels.length)
  levels.forEach((level, cell) => {
    data[2 * cell + 1] = covered[cell] ? 0 : Math.round(255 * levelOpacity(level, wallSpan))
  })
  const png = encode({ width: rows, height: columns, data, channels: 2, depth: 8 })
  return new Response(new Uint8Array(png), { headers: { 'Content-Type': 'image/png' } })
}
