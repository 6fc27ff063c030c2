// What other programs show of a link: title, sentence and picture, for every page.
import { readFileSync } from 'node:fs'
import { join } from 'node:path'
import { expect } from '@playwright/test'
import { decode } from 'fast-png'
import { builtPages } from './built-pages.ts'
import { test } from './test.ts'

const site = join(import.meta.dirname, '../results/site')
const address = 'https://round-the-back.example'
/** The text of a property in a page's head. */
const propertyOf = (html: string, name: string) =>
  new RegExp(`<meta (?:property|name)="${name}" content="([^"]*)"`).exec(html)?.[1] ?? ''

test('every page names itself, its sentence and a picture of the right size that is there; no page loads it', () => {
  const seen = new Set<string>()
  for (const path of builtPages) {
    const html = readFileSync(join(site, path, 'index.html'), 'utf8')
    expect(propertyOf(html, 'og:title'), path).not.toBe('')
    expect(propertyOf(html, 'og:description').length, path).toBeGreaterThan(20)
    expect(propertyOf(html, 'og:url'), path).toBe(address + path)
    expect(propertyOf(html, 'twitter:card'), path).toBe('summary_large_image')
    expect(propertyOf(html, 'og:image:alt'), path).not.toBe('')
    const picture = propertyOf(html, 'og:image')
    expect(picture, path).toMatch(/^https:\/\/round-the-back\.example\/previews\/.+\.png$/)
    expect(seen, path).not.toContain(picture)
    seen.add(picture)
    const { width, height } = decode(readFileSync(join(site, new URL(picture).pathname)))
    expect([width, height], path).toEqual([1200, 630])
    expect([propertyOf(html, 'og:image:width'), propertyOf(html, 'og:image:height')]).toEqual(['1200', '630'])
    expect(html.split('/previews/'), path).toHaveLength(2)
  }
})
