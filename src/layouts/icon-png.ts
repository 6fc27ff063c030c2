import { readFileSync } from 'node:fs'
import sharp from 'sharp'
import { type IconName, icons } from './icons.ts'

/** An icon as PNG. */
export async function iconPng(name: IconName): Promise<Uint8Array> {
  const { sizePx, paper } = icons[name]
  const svg = readFileSync('src/static/icon.svg', 'utf8')
  const [, width = '', ground = ''] =
    /viewBox="0 0 (\d+) \d+".*?<rect width="\d+" height="\d+" fill="([^"]+)"/s.exec(svg) ?? []
  if (!width || !ground) throw new Error('static/icon.svg does not begin with its paper')
  return sharp(Buffer.from(svg), { density: (72 * sizePx) / Number(width) })
    .resize(Math.round(sizePx / (1 + 2 * paper)))
    .extend({ ...edges(sizePx, paper), background: ground })
    .png({ palette: true })
    .toBuffer()
}

/** Paper on each side, px; both sides together make up the size to the pixel. */
function edges(sizePx: number, paper: number) {
  const inside = Math.round(sizePx / (1 + 2 * paper))
  const before = Math.floor((sizePx - inside) / 2)
  const after = sizePx - inside - before
  return { top: before, left: before, bottom: after, right: after }
}
