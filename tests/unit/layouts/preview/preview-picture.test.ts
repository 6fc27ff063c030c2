import { decode } from 'fast-png'
import { describe, expect, test } from 'vitest'
import type { PreviewChart } from '../../../../src/layouts/preview/preview-charts.ts'
import { previewAddress } from '../../../../src/layouts/preview/preview-kinds.ts'
import { previewPng, previewSvg } from '../../../../src/layouts/preview/preview-picture.ts'

const chart: PreviewChart = {
  x: 'frequency',
  yLabel: 'Level (dB)',
  xDomain: [28, 18_000],
  yDomain: [-48, 12],
  lines: [
    {
      points: [
        { x: 50, y: 0 },
        { x: 10_000, y: 0 },
      ],
      role: 'front',
      label: 'front',
      labelAt: 400,
      above: true,
    },
    {
      points: [
        { x: 50, y: 0 },
        { x: 10_000, y: -90 },
      ],
      role: 'behind',
      label: 'behind',
      labelAt: 400,
      above: false,
    },
  ],
  caption: 'Computed for a test.',
}
const page = { title: 'Why is there more bass behind the speakers?', sentence: 'There isn’t.' }

describe('the picture of a link preview', () => {
  test('is 1200 × 630 px, on the paper of the site, with the line of what is behind in its colour', async () => {
    const { width, height, data, channels, palette } = decode(await previewPng(page, chart))
    expect([width, height]).toEqual([1200, 630])
    const colours = new Map<string, number>()
    for (let at = 0; at < width * height; at++) {
      const rgb = palette ? (palette[data[at] ?? 0] ?? []) : [...data.slice(at * channels, at * channels + 3)]
      const key = rgb.slice(0, 3).join()
      colours.set(key, (colours.get(key) ?? 0) + 1)
    }
    const near = (red: number, green: number, blue: number) =>
      [...colours].some(([key, count]) => {
        const [r = 0, g = 0, b = 0] = key.split(',').map(Number)
        return count > 200 && Math.hypot(r - red, g - green, b - blue) < 12
      })
    expect(near(0xfa, 0xf7, 0xf0)).toBe(true)
    expect(near(0x1b, 0x2a, 0x33)).toBe(true)
    expect(near(0x0b, 0x7a, 0x75)).toBe(true)
  })

  test('has a file of less than 60 kB, which programs fetch beside a link', async () => {
    expect((await previewPng(page, chart)).byteLength).toBeLessThan(60_000)
  })

  test('a line that leaves the chart is held at its edge', () => {
    const heights = [...previewSvg(page, chart).matchAll(/<path d="M[\d.]+ ([\d.]+)L[\d.]+ ([\d.]+)" fill="none"/g)]
    expect(heights).toHaveLength(2)
    for (const [, ...both] of heights) for (const y of both) expect(Number(y)).toBeLessThanOrEqual(470)
  })

  test('the longest title and sentence stay above the foot', () => {
    const svg = previewSvg({ title: 'word '.repeat(20).trim(), sentence: 'longer '.repeat(80).trim() }, chart)
    const lines = [...svg.matchAll(/translate\([\d.]+ ([\d.]+)\) scale\(27\)/g)].map(([, y]) => Number(y))
    expect(lines.length).toBeGreaterThan(5)
    expect(Math.max(...lines)).toBeLessThanOrEqual(560)
  })
})

test('every page has its address for a picture', () => {
  expect(previewAddress('/')).toBe('/previews/home.png')
  expect(previewAddress('/answers/x/')).toBe('/previews/answers/x.png')
  expect(previewAddress('/answers/x/index.html')).toBe('/previews/answers/x.png')
})
