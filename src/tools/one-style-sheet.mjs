// All styles of the site in one file. Vite writes two: of what is drawn at build, and of what runs in the browser, which repeats nearly
// all of the first. What the second has alone is put after the first, under one name that changes with what is in it.
import { createHash } from 'node:crypto'
import { globSync, readFileSync, rmSync, writeFileSync } from 'node:fs'
import { join } from 'node:path'
import { fileURLToPath } from 'node:url'
import { parse } from 'postcss'

const link = /<link rel="stylesheet" href="\/_astro\/(style\.[^"]+\.css)">/g

/** The rules of several sheets, each once. */
export function joined(sheets) {
  const seen = new Set()
  return sheets
    .flatMap((sheet) => parse(sheet).nodes.map(String))
    .filter((rule) => !seen.has(rule) && seen.add(rule))
    .join('')
}

export const oneStyleSheet = {
  name: 'one-style-sheet',
  hooks: {
    'astro:build:done': ({ dir }) => {
      const site = fileURLToPath(dir)
      const pages = globSync('**/*.html', { cwd: site }).map((file) => join(site, file))
      const names = [
        ...new Set(pages.flatMap((page) => [...readFileSync(page, 'utf8').matchAll(link)].map(([, name]) => name))),
      ]
      const files = names.map((name) => join(site, '_astro', name))
      const css = joined(files.map((file) => readFileSync(file, 'utf8')))
      const name = `styles.${createHash('sha256').update(css).digest('base64url').slice(0, 8)}.css`
      for (const file of files) rmSync(file)
      writeFileSync(join(site, '_astro', name), css)
      for (const page of pages) {
        let isNamed = false
        const html = readFileSync(page, 'utf8').replace(link, (tag, old) => {
          if (isNamed) return ''
          isNamed = true
          return tag.replace(old, name)
        })
        writeFileSync(page, html)
      }
    },
  },
}
