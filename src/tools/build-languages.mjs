// For Astro: when the English site is built, builds it in each language of content/languages and lays what comes of it beside: pages
// under /<code>/, code and styles into the same _astro. Plain JavaScript.
import { cpSync, existsSync, mkdirSync, readdirSync, readFileSync, rmSync, writeFileSync } from 'node:fs'
import { dirname, join } from 'node:path'
import { fileURLToPath } from 'node:url'
import { addressIn, languageIn, otherLanguages } from './languages.mjs'
import { run } from './set-up.mjs'

/** Where a language is built before it is laid beside English, and what it keeps meanwhile; below the folder of the site. */
export const workFolders = (outDir, code) => ({ outDir: `${outDir}/.${code}`, cacheDir: `${outDir}/.${code}-kept` })

/** The file of a page. */
const fileOf = (address) => (address === '/404/' ? '404.html' : join(address.slice(1), 'index.html'))

/** A link or a form in HTML: up to its address, the path of that, the rest. */
const toPage = /(<(?:a|form)\b(?:\s+[^\s=>"]+(?:="[^"]*")?)*?\s+(?:href|action)=")(\/[^"?#]*)([^>]*?>)/g

/**
 * A built page with its links in a language: to its own pages where it has them, else told to be English. What says which language
 * it leads to stays.
 */
export function linksIn(language, html) {
  return html.replace(toPage, (all, before, path, after) => {
    if (/\bhreflang=/.test(before + after)) return all
    const address = addressIn(language, path)
    if (address !== path) return before + address + after
    return path.endsWith('/') && before.startsWith('<a')
      ? `${before}${path}${after.replace('"', '" hreflang="en"')}`
      : all
  })
}

/** Takes over every file of a folder; one that is there already has to be the same. */
function takeOver(from, to, folder) {
  if (!existsSync(join(from, folder))) return
  for (const entry of readdirSync(join(from, folder), { recursive: true, withFileTypes: true })) {
    if (!entry.isFile()) continue
    const source = join(entry.parentPath, entry.name)
    const target = join(to, source.slice(from.length))
    if (!existsSync(target)) cpSync(source, target)
    else if (!readFileSync(source).equals(readFileSync(target)))
      throw new Error(`${source} and ${target} have one name and differ`)
  }
}

async function layBeside(site, code) {
  const { outDir, cacheDir } = workFolders(site, code)
  try {
    if ((await run('astro', ['build', '--silent'], { env: { SITE_LANGUAGE: code } })) !== 0)
      throw new Error(`The site could not be built in the language ${code}; the lines above say why.`)
    const language = languageIn(code)
    for (const address of language.addresses) {
      const target = join(site, code, fileOf(address))
      mkdirSync(dirname(target), { recursive: true })
      writeFileSync(target, linksIn(language, readFileSync(join(outDir, fileOf(address)), 'utf8')))
    }
    for (const folder of ['_astro', 'previews']) takeOver(outDir, site, folder)
    if (language.addresses.includes('/search/'))
      cpSync(join(outDir, 'search-index.json'), join(site, code, 'search-index.json'))
    return language.addresses.length
  } finally {
    for (const folder of [outDir, cacheDir]) rmSync(folder, { recursive: true, force: true })
  }
}

/** Before whatever goes by all files of the site. */
export const buildLanguages = {
  name: 'build-languages',
  hooks: {
    'astro:build:done': async ({ dir, logger }) => {
      for (const code of otherLanguages()) {
        const count = await layBeside(fileURLToPath(dir).replace(/[\\/]$/, ''), code)
        logger.info(`${count} pages in ${code}`)
      }
    },
  },
}
