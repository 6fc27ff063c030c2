import { readFileSync } from 'node:fs'
import { create, type Font } from 'fontkitten'
import { beforeAll, describe, expect, test } from 'vitest'
import { writeFonts } from '../../../src/tools/site-fonts.mjs'

const folder = new URL('../../../src/styles/fonts/', import.meta.url)
const read = (name: string) => readFileSync(new URL(name, folder))

function fontOf(bytes: Buffer): Font {
  const font = create(bytes)
  if (font.isCollection) throw new Error('one font, and not several')
  return font
}

type Face = { family: string; style: string; file: string; codes: number[] }

function faces(): Face[] {
  const sheet = read('fonts.css').toString()
  return (sheet.match(/@font-face \{[^}]*\}/g) ?? []).map((face) => ({
    family: /font-family: '([^']+)'/.exec(face)?.[1] ?? '',
    style: /font-style: (\w+)/.exec(face)?.[1] ?? '',
    file: /url\(([^)]+)\)/.exec(face)?.[1] ?? '',
    codes: (/unicode-range: ([^;]+)/.exec(face)?.[1] ?? '').split(',').flatMap((range) => {
      const [from = 0, to = from] = range
        .trim()
        .slice(2)
        .split('-')
        .map((code) => Number.parseInt(code, 16))
      return Array.from({ length: to - from + 1 }, (_, index) => from + index)
    }),
  }))
}
const small = () => faces().filter(({ file }) => file.startsWith('./'))

describe('the site’s own font files', () => {
  beforeAll(() => writeFonts())

  test('have every character that they claim, and a face of the package has none of these', () => {
    expect(small()).toHaveLength(3)
    for (const { family, style, file, codes } of small()) {
      const font = fontOf(read(file))
      expect(codes.filter((code) => !font.hasGlyphForCodePoint(code))).toEqual([])
      const others = faces().filter((face) => face.family === family && face.style === style && face.file !== file)
      const claimed = new Set(others.filter((face) => face.file.includes('-latin-wght')).flatMap((face) => face.codes))
      expect(codes.filter((code) => claimed.has(code))).toEqual([])
    }
  })

  test('are as wide as those of the package, with the weights that the styles ask for', () => {
    const packages = new URL('../../../node_modules/@fontsource-variable/', import.meta.url)
    const whole = {
      './literata.woff2': 'literata/files/literata-latin-wght-normal.woff2',
      './literata-italic.woff2': 'literata/files/literata-latin-wght-italic.woff2',
      './atkinson.woff2': 'atkinson-hyperlegible-next/files/atkinson-hyperlegible-next-latin-wght-normal.woff2',
    }
    const widths = (font: Font) =>
      font.glyphsForString('Treble at 2.5 m: −29 dB. Yet “bass” goes round').map(({ advanceWidth }) => advanceWidth)
    for (const [file, source] of Object.entries(whole)) {
      const cut = fontOf(read(file))
      expect(widths(cut), file).toEqual(widths(fontOf(readFileSync(new URL(source, packages)))))
      expect(cut.variationAxes['wght'], file).toMatchObject({ min: 400, max: 700 })
    }
  })

  test('weigh what the first view of a slow phone can bear', () => {
    for (const { file } of small()) expect(read(file).length, file).toBeLessThan(30_000)
  })
})
