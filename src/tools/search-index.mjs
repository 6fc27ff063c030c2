import { readFileSync, writeFileSync } from 'node:fs'
import MiniSearch from 'minisearch'
import { parse } from 'node-html-parser'
import { searchOptions } from '../widgets/search/search-options.ts'
import { addressIn } from './languages.mjs'
import { language } from './site-language.mjs'

/** What is no words of the page: figures with their controls, tables, lists of checks, formulas, what only feet show. */
const leftOut =
  'script, style, template, nav, table, button:not(.term), ul.figures, [hidden], .figure, .figures.quiet, .guess, .contents, .definitions, .self-check, .sources, .katex, .length-ft, .visually-hidden, .without-script, #page-notice'

/** What stands in a line of words. */
const inLine = /^(a|abbr|b|bdi|button|cite|code|em|i|mark|output|q|small|span|strong|sub|sup)$/

/** Pages that are none to be found: a frame's, the one of the tests, the one for what does not exist, the search itself. */
const notFound = /^(embed|harness|404|search)\b/

/**
 * The passages of a built page: each part under a heading with an address of its own, with its words as a reader sees them.
 *
 * @param html  of the whole page
 * @param path  of the page, '/' first and last
 */
export function passagesOf(html, path) {
  const main = parse(html).querySelector('main')
  if (!main) return []
  for (const each of main.querySelectorAll(leftOut)) each.remove()
  const page = main.querySelector('h1')?.text.trim() ?? ''
  const passages = [{ page, heading: '', url: path, parts: [] }]
  const walk = (node) => {
    if (node.nodeType === 3) {
      passages.at(-1).parts.push(node.text)
      return
    }
    const tag = node.rawTagName?.toLowerCase()
    if (tag === 'h1') return
    const section = /^(section|article)$/.test(tag ?? '') && node.id ? node : undefined
    const anchor = section?.id ?? (/^h[23]$/.test(tag ?? '') ? node.id : '')
    if (anchor) {
      const heading = section ? section.querySelector('h2, h3') : node
      passages.push({
        page,
        heading: heading?.text.replace(/\s+/g, ' ').trim() ?? '',
        url: `${path}#${anchor}`,
        parts: [],
      })
      if (section) {
        heading?.remove()
        section.childNodes.forEach(walk)
      }
      return
    }
    node.childNodes.forEach(walk)
    // Words of neighbouring lines do not run together.
    if (!inLine.test(tag ?? '')) passages.at(-1).parts.push(' ')
  }
  main.childNodes.forEach(walk)
  return passages
    .map(({ parts, ...passage }) => ({ ...passage, text: parts.join('').replace(/\s+/g, ' ').trim() }))
    .filter(({ text }) => text !== '')
}

/** Writes search-index.json beside the pages: what the search on the site looks through. */
export const searchIndex = {
  name: 'search-index',
  hooks: {
    'astro:build:done': ({ dir, pages, logger }) => {
      const search = new MiniSearch(searchOptions)
      const passages = pages
        .map(({ pathname }) => pathname)
        .filter((pathname) => !notFound.test(pathname) && (!language || language.addresses.includes(`/${pathname}`)))
        .flatMap((pathname) => {
          const address = language ? addressIn(language, `/${pathname}`) : `/${pathname}`
          return passagesOf(readFileSync(new URL(`${pathname}index.html`, dir), 'utf8'), address)
        })
      search.addAll(passages.map((passage, id) => ({ id, ...passage })))
      writeFileSync(new URL('search-index.json', dir), JSON.stringify(search))
      logger.info(`${passages.length} passages to be found`)
    },
  },
}
