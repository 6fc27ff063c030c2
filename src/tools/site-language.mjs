// The language that the site is being built in: English, one of content/languages (SITE_LANGUAGE=es), or the pseudo-language
// (SITE_LANGUAGE=pseudo). What its words are taken from, for content and for Vite. Plain JavaScript.
import { readdirSync, readFileSync } from 'node:fs'
import { basename, dirname } from 'node:path'
import { env } from 'node:process'
import { headingAnchors } from './heading-anchors.mjs'
import { addressIn, firstLanguage, languageIn, otherLanguages, ownNameOf, wordsOfData } from './languages.mjs'
import { moduleOf } from './messages.mjs'
import { pseudo, remarkPseudo } from './pseudo-language.mjs'

const code = env.SITE_LANGUAGE || firstLanguage

/** Whether the site is being built in the language that nobody speaks. */
export const inPseudo = code === 'pseudo'

/** The language of the build, if it is neither English nor the pseudo-language; undefined else. */
export const language = inPseudo || code === firstLanguage ? undefined : languageIn(code)

/** A piece of data in the language of the build; as it is where the language lacks it. */
const wordsOf = inPseudo ? pseudo : language ? (text) => language.data[text] ?? text : undefined

/** A copy of data with the named string properties translated, at any depth. */
function translated(data, names) {
  if (Array.isArray(data)) return data.map((item) => translated(item, names))
  if (typeof data !== 'object' || data === null) return data
  return Object.fromEntries(
    Object.entries(data).map(([name, value]) => [
      name,
      typeof value === 'string' && names.includes(name) ? wordsOf(value) : translated(value, names),
    ]),
  )
}

/** A content loader whose entries have the named fields, which are the words a reader sees, in the site's language. */
export function withWords(loader, names) {
  if (!wordsOf) return loader
  const parsed = (parseData) => async (entry) => translated(await parseData(entry), names)
  return { ...loader, load: (context) => loader.load({ ...context, parseData: parsed(context.parseData) }) }
}

/** Which files of a folder of content/ are read: the language's own in place of those that it has. For Astro's glob. */
export function filesIn(folder, pattern) {
  const own = language?.files.filter((file) => dirname(file) === folder) ?? []
  if (own.length === 0) return { pattern, base: `./content/${folder}` }
  return {
    base: './content',
    pattern: [`${folder}/${pattern}`, ...own.flatMap((file) => [`!${file}`, `languages/${language.code}/${file}`])],
    generateId: ({ entry }) => basename(entry).replace(/\.[^.]+$/, ''),
  }
}

/** For remark: what is done to the pages of content. */
export const remarkWords = inPseudo ? [remarkPseudo] : language ? [headingAnchors] : []

/** For Vite: the languages that pages tell of, and what is taken in place of files when the build is not in English. */
export const languagePlugins = () => [
  toldLanguages,
  ...(inPseudo || language ? [otherWords] : []),
  ...(language ? [ownPages] : []),
]

/** `virtual:site-languages`: the language of the build, and all with their names and the pages that they have. */
const toldLanguages = {
  name: 'site-languages',
  resolveId: { filter: { id: /^virtual:site-languages$/ }, handler: (id) => `\0${id}` },
  load: {
    filter: { id: /^\0virtual:site-languages$/ },
    handler() {
      const others = otherLanguages().map((each) => ({
        code: each,
        name: ownNameOf(each),
        addresses: languageIn(each).addresses,
      }))
      const all = [{ code: firstLanguage, name: ownNameOf(firstLanguage), addresses: null }, ...others]
      return `export const siteLanguage = '${language?.code ?? firstLanguage}'\nexport const siteLanguages = ${JSON.stringify(all)}`
    },
  },
}

/** Messages and data in the language of the build. Stills have no words and take long; the typefaces of previews lack the pseudo-language's letters. */
const notMade = inPseudo ? 'stills|previews' : 'stills'

const otherWords = {
  name: 'other-words',
  enforce: 'pre',
  load: {
    filter: { id: new RegExp(String.raw`\.messages\.ts$|/src/pages/(${notMade})/`) },
    handler(id) {
      if (!id.endsWith('.messages.ts')) return noFiles
      const from = language ? { language } : { inLanguage: pseudo }
      return moduleOf(id.replace(/\.ts$/, '.json'), from)
    },
  },
  transform: {
    filter: { id: /\/content\/halls\/.*\.json$/ },
    order: 'pre',
    handler: (json) => ({ code: JSON.stringify(translated(JSON.parse(json), wordsOfData.halls)), map: null }),
  },
}
const noFiles = `export const getStaticPaths = () => []; export const GET = () => new Response('')`

/** The address of a page's file in src/pages; undefined for one that makes several. */
function addressOfFile(id) {
  const [, file] = /\/src\/pages\/([^?]*)\.astro$/.exec(id) ?? []
  if (file === undefined || file.includes('[')) return undefined
  return `/${file.replace(/(^|\/)index$/, '')}/`.replace('//', '/')
}

/** Only the pages that the language has, its numbers and lists, and links from page to page within it. */
const ownPages = {
  name: 'own-pages',
  enforce: 'pre',
  load: {
    filter: { id: /\/src\/(pages\/.*\.astro|pages\/\[feed\]\.xml\.ts|words\/(language|digits|unit-names)\.ts)$/ },
    handler(id) {
      if (id.endsWith('/language.ts')) return `export const language = '${language.code}'`
      if (id.endsWith('/digits.ts'))
        return `import { digitsIn } from './local-digits.ts'\nexport const digits = digitsIn('${language.code}')`
      if (id.endsWith('/unit-names.ts'))
        return `import { unitsIn } from './local-units.ts'\nexport const unitNames = unitsIn('${language.code}')`
      if (id.endsWith('.xml.ts')) return noFiles
      const address = addressOfFile(id)
      return address && !language.addresses.includes(address) ? '' : undefined
    },
  },
  transform: {
    filter: { id: /\/src\/(widgets\/.*\.(ts|svelte|astro)|styles\/base\.css)$/ },
    order: 'pre',
    handler(text, id) {
      if (id.endsWith('base.css')) return { code: text + elsewhereStyle(), map: null }
      const linked = text
        .replace(/(["'`])(\/(?:[a-z0-9-]+\/)+(?:#[a-z0-9-]*)?)\1/g, (_, quote, address) => {
          return `${quote}${addressIn(language, address)}${quote}`
        })
        // Which page of a folder is meant is known only later.
        .replace(/(["'`])\/(lessons|answers)\/(?=\$?\{)/g, (all, quote, folder) => {
          return hasAll(folder) ? `${quote}/${language.code}/${folder}/` : all
        })
        // A link to home is one only where it is the aim of words.
        .replace(/(\bto=\{\{ \w+: )'\/'/g, (_, before) => `${before}'${addressIn(language, '/')}'`)
        // What is searched is the language's own, where it has the page of the search.
        .replace(`'/${searchedFile}'`, () => `'${addressIn(language, '/search/').replace('search/', searchedFile)}'`)
      return linked === text ? undefined : { code: linked, map: null }
    },
  },
}

/** Whether the language has every page of a folder of content. */
const hasAll = (folder) =>
  readdirSync(new URL(`../../content/${folder}`, import.meta.url)).every((file) =>
    language.files.includes(`${folder}/${file}`),
  )

const searchedFile = 'search-index.json'

/** What marks a link that leaves the language. */
const elsewhereStyle = () =>
  readFileSync(new URL('../styles/elsewhere.css', import.meta.url), 'utf8').replaceAll(
    '/LANGUAGE/',
    `/${language.code}/`,
  )
