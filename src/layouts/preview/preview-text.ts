import { readFileSync } from 'node:fs'
import { createRequire } from 'node:module'
import { create, type Font } from 'fontkitten'

// Words as outlines in the site's own two typefaces, so that a picture does not hang on what a machine has installed.

export type Face = 'text' | 'figures'

const require = createRequire(import.meta.url)
const folders = { text: 'literata', figures: 'atkinson-hyperlegible-next' } as const
const kept = new Map<Face, Font[]>()

/** The typeface in its parts, the first that has a sign is taken. */
function fontsOf(face: Face): Font[] {
  const known = kept.get(face)
  if (known) return known
  const folder = folders[face]
  const fonts = ['latin', 'latin-ext'].map((part) => {
    const file = require.resolve(`@fontsource-variable/${folder}/files/${folder}-${part}-wght-normal.woff2`)
    return create(readFileSync(file)) as Font
  })
  kept.set(face, fonts)
  return fonts
}

type Outline = { path: string; advanceEm: number }

/** Every sign of a text; one that the typeface does not have stops the build. */
function outlines(text: string, face: Face): Outline[] {
  return [...text].map((sign) => {
    const point = sign.codePointAt(0) ?? 0
    const font = fontsOf(face).find((each) => each.hasGlyphForCodePoint(point))
    const [glyph] = font?.glyphsForString(sign) ?? []
    if (!font || !glyph) throw new Error(`The typeface of previews has no “${sign}”, which stands in “${text}”`)
    const scale = 1 / font.unitsPerEm
    return {
      path: scaled(glyph.path.toSVG(), scale),
      advanceEm: glyph.advanceWidth * scale,
    }
  })
}

/** The same outline in ems, y down, to a thousandth. */
const scaled = (path: string, scale: number): string => {
  let isX = true
  return path.replace(/([A-Z])|(-?\d*\.?\d+(?:e-?\d+)?)/gi, (all, letter: string | undefined) => {
    if (letter) {
      isX = true
      return all
    }
    const value = Number(all) * scale * (isX ? 1 : -1)
    isX = !isX
    return String(Math.round(value * 1e4) / 1e4)
  })
}

/** How wide a text is, px. */
export const textWidthPx = (text: string, face: Face, sizePx: number): number =>
  outlines(text, face).reduce((sum, { advanceEm }) => sum + advanceEm * sizePx, 0)

/** A text as SVG, its baseline beginning at a place; `anchor` as SVG's text-anchor. */
export function textSvg(
  text: string,
  at: { xPx: number; yPx: number; sizePx: number; face: Face; fill: string; anchor?: 'start' | 'middle' | 'end' },
): string {
  const { xPx, yPx, sizePx, face, fill, anchor = 'start' } = at
  const widthPx = textWidthPx(text, face, sizePx)
  let left = anchor === 'start' ? xPx : anchor === 'end' ? xPx - widthPx : xPx - widthPx / 2
  const signs = outlines(text, face).map(({ path, advanceEm }) => {
    const sign = path && `<path transform="translate(${left.toFixed(2)} ${yPx}) scale(${sizePx})" d="${path}"/>`
    left += advanceEm * sizePx
    return sign
  })
  return `<g fill="${fill}">${signs.join('')}</g>`
}

/** A text in lines no wider than stated, at most so many; what does not fit ends with an ellipsis. */
export function linesOf(text: string, face: Face, sizePx: number, widthPx: number, most: number): string[] {
  const lines: string[] = []
  let line = ''
  for (const word of text.split(/\s+/)) {
    const longer = line ? `${line} ${word}` : word
    if (line && textWidthPx(longer, face, sizePx) > widthPx) {
      lines.push(line)
      line = word
    } else line = longer
  }
  lines.push(line)
  if (lines.length <= most) return lines
  const last = lines[most - 1] ?? ''
  return [...lines.slice(0, most - 1), `${last.replace(/[\s,.;:]+\S*$/, '')} …`]
}
