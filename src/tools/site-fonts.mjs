// Makes src/styles/fonts/: the site's typefaces with the characters that its words are made of and the weights that its styles ask
// for, half as heavy as they come; and the system's faces stretched to their measure, so that nothing moves when they arrive. Characters
// beyond these (a reader's own words) come from the packages' whole files.
import { createHash } from 'node:crypto'
import { existsSync, mkdirSync, readFileSync, writeFileSync } from 'node:fs'
import { join } from 'node:path'
import { fromBuffer } from '@capsizecss/unpack'
import { create } from 'fontkitten'
import subsetFont from 'subset-font'
import { projectRoot } from './set-up.mjs'

const folder = join(projectRoot, 'src', 'styles', 'fonts')
const packages = join(projectRoot, 'node_modules', '@fontsource-variable')

/** Printable ASCII, what else words with units, arrows and formulas are written with, and the letters of Spanish. */
const siteCharacters = new Set([
  ...Array.from({ length: 0x7f - 0x20 }, (_, index) => 0x20 + index),
  ...[...'\u00a0°±²³µ·¹½×÷\u2009\u200a\u200b\u2011–—‘’“”…\u202f′″↑↓−¡¿«»ªºÁÉÍÑÓÚÜáéíñóúü'].map((character) =>
    character.codePointAt(0),
  ),
])
/** The weights between which the styles stay. */
const weights = { min: 400, max: 700 }

/** Sheet of a package → the small file that is made of its Latin face, and the system's face that stands in meanwhile. */
const families = [
  { sheet: 'literata/index.css', file: 'literata', like: 'Times New Roman' },
  { sheet: 'literata/wght-italic.css', file: 'literata-italic', like: 'Times New Roman' },
  { sheet: 'atkinson-hyperlegible-next/index.css', file: 'atkinson', like: 'Arial' },
]
/**
 * Faces that a system has: names under which it may know them (the second of each has the same widths by design), and the mean width
 * of a letter of English in ems. Source: @capsizecss/metrics 4, `xWidthAvg / unitsPerEm`.
 */
const systemFaces = {
  'Times New Roman': { names: ['Times New Roman', 'Liberation Serif'], meanWidthEm: 832 / 2048 },
  Arial: { names: ['Arial', 'Liberation Sans'], meanWidthEm: 913 / 2048 },
}

/** Writes the fonts and their style sheet, unless those that are there were made of the same. */
export async function writeFonts() {
  const sheet = join(folder, 'fonts.css')
  const madeOf = `/* Made by site-fonts.mjs of ${keyOf([import.meta.filename, ...versionFiles()])}; do not edit. */`
  const outputs = [sheet, ...families.map(({ file }) => join(folder, `${file}.woff2`))]
  if (outputs.every(existsSync) && readFileSync(sheet, 'utf8').startsWith(madeOf)) return
  mkdirSync(folder, { recursive: true })
  const rules = await Promise.all(families.map(writeFamily))
  writeFileSync(sheet, [madeOf, ...rules.flat(), ''].join('\n'))
}

/** The faces of a family: those of the package for other scripts, the rest of its Latin one, the small one, and the one meanwhile. */
async function writeFamily({ sheet, file, like }) {
  const from = join(packages, sheet, '..')
  const faces = readFileSync(join(packages, sheet), 'utf8').match(/@font-face \{[^}]*\}/g) ?? []
  const latin = faces.find((face) => /-latin-wght-/.test(face))
  if (!latin) throw new Error(`There is no Latin face in ${sheet}`)
  const whole = readFileSync(join(from, /url\(\.\/([^)]+)\)/.exec(latin)[1]))
  // A face that claims a character which it has not would be fetched for nothing.
  const known = create(whole)
  const all = codesIn(/unicode-range: ([^;]+)/.exec(latin)[1]).filter((code) => known.hasGlyphForCodePoint(code))
  const small = all.filter((code) => siteCharacters.has(code))
  const subset = await subsetFont(whole, String.fromCodePoint(...small), {
    targetFormat: 'woff2',
    variationAxes: { wght: weights },
  })
  writeFileSync(join(folder, `${file}.woff2`), subset)
  const withCodes = (codes) => latin.replace(/unicode-range: [^;]+/, `unicode-range: ${rangesOf(codes)}`)
  return [
    ...faces
      .map((face) => (face === latin ? withCodes(all.filter((code) => !siteCharacters.has(code))) : face))
      .map((face) => face.replace('url(./files/', `url(@fontsource-variable/${sheet.split('/')[0]}/files/`)),
    withCodes(small).replace(/url\([^)]+\)/, `url(./${file}.woff2)`),
    await meanwhile(whole, latin, small, systemFaces[like]),
  ]
}

/** The system's face with the measure of a font. */
async function meanwhile(font, face, codes, { names, meanWidthEm }) {
  const { ascent, descent, lineGap, unitsPerEm, xWidthAvg } = await fromBuffer(font)
  const size = xWidthAvg / unitsPerEm / meanWidthEm
  const percent = (share) => `${(100 * share).toFixed(2)}%`
  return `@font-face {
  font-family: '${/font-family: '([^']+)'/.exec(face)[1]} meanwhile';
  font-style: ${/font-style: (\w+)/.exec(face)[1]};
  src: ${names.map((name) => `local('${name}')`).join(', ')};
  size-adjust: ${percent(size)};
  ascent-override: ${percent(ascent / unitsPerEm / size)};
  descent-override: ${percent(-descent / unitsPerEm / size)};
  line-gap-override: ${percent(lineGap / unitsPerEm / size)};
  unicode-range: ${rangesOf(codes)};
}`
}

/** All code points of a unicode-range. */
function codesIn(ranges) {
  return ranges.split(',').flatMap((range) => {
    const [from, to = from] = range
      .trim()
      .slice(2)
      .split('-')
      .map((code) => Number.parseInt(code, 16))
    return Array.from({ length: to - from + 1 }, (_, index) => from + index)
  })
}

/** The unicode-range of code points in their order. */
function rangesOf(codes) {
  const runs = []
  for (const code of codes) {
    if (runs.at(-1)?.[1] === code - 1) runs.at(-1)[1] = code
    else runs.push([code, code])
  }
  return runs.map(([from, to]) => `U+${from.toString(16)}${to > from ? `-${to.toString(16)}` : ''}`).join(', ')
}

/** What the fonts hang on beside this file. */
function versionFiles() {
  const names = [
    'subset-font',
    '@capsizecss/unpack',
    ...families.map(({ sheet }) => `@fontsource-variable/${sheet.split('/')[0]}`),
  ]
  return names.map((name) => join(projectRoot, 'node_modules', name, 'package.json'))
}

const keyOf = (files) =>
  files.reduce((hash, file) => hash.update(readFileSync(file)), createHash('sha256')).digest('hex')
