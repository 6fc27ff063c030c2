import sharp from 'sharp'
import { labelPlaces } from '../../charts/label-places.ts'
import { linearScale, logScale } from '../../charts/scale.ts'
import { frequencyTick, frequencyTicks } from '../../words/frequencies.ts'
import { colourOf } from '../colour-of.ts'
import { siteName } from '../page.messages.ts'
import * as say from './preview.messages.ts'
import type { PreviewChart, PreviewLine } from './preview-charts.ts'
import { previewSizePx } from './preview-kinds.ts'
import { type Face, linesOf, textSvg, textWidthPx } from './preview-text.ts'

// The picture that other programs show beside a link: the page's title and sentence on paper, and a chart of computed curves.

const [paper, ink, teal] = [colourOf('paper').light, colourOf('ink').light, colourOf('behind').light]
const quiet = { ink, opacity: 0.72 }
const strokes: Record<PreviewLine['role'], string> = {
  front: `stroke="${ink}" stroke-width="4"`,
  behind: `stroke="${teal}" stroke-width="4" stroke-dasharray="14 8"`,
  other: `stroke="${ink}" stroke-width="2.5" stroke-opacity="0.6"`,
}

const margin = 60
const words = { left: margin, width: 500 }
const plot = { left: 690, right: 1140, top: 120, bottom: 470 }

/** A page's preview as an SVG of 1200 × 630 px without text: all words are outlines. */
export function previewSvg(page: { title: string; sentence: string }, chart: PreviewChart): string {
  const { width, height } = previewSizePx
  return [
    `<svg xmlns="http://www.w3.org/2000/svg" width="${width}" height="${height}" viewBox="0 0 ${width} ${height}">`,
    `<rect width="${width}" height="${height}" fill="${paper}"/>`,
    wordsSvg(page),
    chartSvg(chart),
    '</svg>',
  ].join('')
}

/** The same as a PNG. */
export async function previewPng(page: { title: string; sentence: string }, chart: PreviewChart): Promise<Uint8Array> {
  return sharp(Buffer.from(previewSvg(page, chart)))
    .png({ palette: true, effort: 7 })
    .toBuffer()
}

function wordsSvg({ title, sentence }: { title: string; sentence: string }): string {
  // A long title is set smaller, so that the sentence has room.
  const sizePx = [56, 48, 42].find((size) => linesOf(title, 'text', size, words.width, 99).length <= 4) ?? 42
  const titleLines = linesOf(title, 'text', sizePx, words.width, 5)
  const titleTop = 165
  const sentenceTop = titleTop + titleLines.length * sizePx * 1.18 + 26
  const room = Math.max(1, Math.floor((545 - sentenceTop) / 38) + 1)
  const sentenceLines = linesOf(sentence, 'text', 27, words.width, room)
  const put = (text: string, yPx: number, size: number, face: Face, isQuiet: boolean) =>
    quietly(isQuiet, textSvg(text, { xPx: words.left, yPx, sizePx: size, face, fill: ink }))
  return [
    put(siteName(), 78, 28, 'figures', true),
    ...titleLines.map((line, index) => put(line, titleTop + index * sizePx * 1.18, sizePx, 'text', false)),
    ...sentenceLines.map((line, index) => put(line, sentenceTop + index * 38, 27, 'text', true)),
  ].join('')
}

const quietly = (isQuiet: boolean, svg: string): string => (isQuiet ? `<g opacity="${quiet.opacity}">${svg}</g>` : svg)

function chartSvg({ x, yLabel, xDomain, yDomain, lines, caption }: PreviewChart): string {
  const along = (x === 'frequency' ? logScale : linearScale)(xDomain, [plot.left, plot.right])
  const up = linearScale(yDomain, [plot.bottom, plot.top])
  const held = (value: number) => Math.min(plot.bottom, Math.max(plot.top, up(value)))
  const inside = frequencyTicks.filter((tick) => tick >= xDomain[0] && tick <= xDomain[1])
  const named =
    x === 'angle'
      ? [-90, -60, -30, 0, 30, 60, 90].map((tick) => ({ at: tick, text: String(tick).replace('-', '−') }))
      : inside
          .filter((_, index) => inside.length < 6 || index % 2 === 1)
          .map((tick) => ({ at: tick, text: frequencyTick(tick) }))
  const label = (text: string, xPx: number, yPx: number, anchor: 'start' | 'middle' | 'end', sizePx = 20) =>
    quietly(true, textSvg(text, { xPx, yPx, sizePx, face: 'figures', fill: ink, anchor }))
  const grid = [
    ...up.ticks(6).map((tick) => `M${plot.left} ${up(tick).toFixed(1)}H${plot.right}`),
    ...named.map(({ at }) => `M${along(at).toFixed(1)} ${plot.top}V${plot.bottom}`),
  ]
  const drawn = lines.map((line): DrawnLine => {
    const places = line.points.map((point): [number, number] => [along(point.x), held(point.y)])
    const away = ([left]: [number, number]) => Math.abs(left - along(line.labelAt))
    return { ...line, places, nameAt: places.reduce((a, b) => (away(b) < away(a) ? b : a)) }
  })
  const captionLines = linesOf(caption, 'figures', 20, plot.right - plot.left + 40, 2)
  return [
    `<path d="${grid.join('')}" stroke="${ink}" stroke-opacity="0.15" fill="none"/>`,
    ...up.ticks(6).map((tick) => label(String(tick).replace('-', '−'), plot.left - 10, up(tick) + 7, 'end')),
    ...named.map(({ at, text }) => label(text, along(at), plot.bottom + 28, 'middle')),
    label(yLabel, plot.left, plot.top - 20, 'start'),
    label(x === 'frequency' ? say.frequency() : say.upAndDown(), plot.right, plot.bottom + 58, 'end'),
    ...captionLines.map((line, index) => label(line, plot.left - 40, plot.bottom + 96 + index * 26, 'start')),
    ...drawn.map(({ role, places }) => {
      const path = places.map(([left, top], index) => `${index ? 'L' : 'M'}${left.toFixed(1)} ${top.toFixed(1)}`)
      return `<path d="${path.join('')}" fill="none" stroke-linejoin="round" ${strokes[role]}/>`
    }),
    ...lineNames(drawn),
  ].join('')
}

type DrawnLine = PreviewLine & { places: [number, number][]; nameAt: [number, number] }

const nameSizePx = 23

/** The name of every line at its point, moved to where it is clear of lines and of other names. */
function lineNames(lines: readonly DrawnLine[]): string[] {
  const segments = lines.flatMap(({ places }) =>
    places.slice(1).map(([x2, y2], index) => {
      const [x1, y1] = places[index] ?? [x2, y2]
      return { x1, y1, x2, y2 }
    }),
  )
  const asks = lines.map(({ label, nameAt: [x, y], above }) => {
    const half = textWidthPx(label, 'figures', nameSizePx) / 2
    const baseline = y + (above ? -14 : 14 + 0.75 * nameSizePx)
    const box = {
      left: x - half - 4,
      right: x + half + 4,
      top: baseline - 0.8 * nameSizePx,
      bottom: baseline + 0.25 * nameSizePx,
    }
    return { box, reachPx: 160, spare: false }
  })
  const shifts = labelPlaces(asks, segments, [], {
    left: plot.left,
    right: plot.right,
    top: plot.top,
    bottom: plot.bottom,
  })
  return lines.map(({ label, role }, index) => {
    const [box, shift] = [asks[index]?.box, shifts[index]]
    if (!box) return ''
    const xPx = (box.left + box.right) / 2 + (shift?.x ?? 0)
    const yPx = box.bottom - 0.25 * nameSizePx + (shift?.y ?? 0)
    const fill = role === 'behind' ? teal : ink
    return textSvg(label, { xPx, yPx, sizePx: nameSizePx, face: 'figures', fill, anchor: 'middle' })
  })
}
