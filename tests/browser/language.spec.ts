// The site in a language that nobody speaks, every letter of its messages and contents accented: whatever still reads as plain
// English has not gone through a message. Looked at as built, and again while each figure is used.
import { existsSync, globSync, readFileSync } from 'node:fs'
import { extname, join } from 'node:path'
import { expect, type Page } from '@playwright/test'
import { openEverything, wakeFigures } from './page-checks.ts'
import { test } from './test.ts'
import { seenWords, signs, watchWords } from './watch-words.ts'

// What is copied is not shown: addresses and the names of the demo are the same in every language.
test.use({ permissions: ['clipboard-read', 'clipboard-write'] })

const site = join(import.meta.dirname, '../results/site-pseudo')
const pages = globSync('**/index.html', { cwd: site })
  .map((file) => `/${file.replaceAll('\\', '/').replace(/index\.html$/, '')}`)
  .filter((path) => !path.startsWith('/harness/'))
  .sort()
if (pages.length === 0)
  throw new Error(`There is no site in the pseudo-language in ${site}: build it with SITE_LANGUAGE=pseudo`)

const kinds: Record<string, string> = {
  '.html': 'text/html',
  '.js': 'text/javascript',
  '.css': 'text/css',
  '.svg': 'image/svg+xml',
  '.json': 'application/json',
}

/** A word in plain letters that is no sign. */
// The browser's own lists have an English “and”: for it this language is English.
const plainEnglish = { word: /[A-Za-z]{2,}/g, but: new RegExp(`${signs.source}|^and$`) }

/** Gives the page its files from the folder of that build. */
async function serve(page: Page) {
  await page.context().route('**/*', async (route) => {
    const path = decodeURIComponent(new URL(route.request().url()).pathname)
    const file = join(site, path.endsWith('/') ? `${path}index.html` : path)
    if (!existsSync(file)) return route.fulfill({ status: 404, body: '' })
    return route.fulfill({ contentType: kinds[extname(file)] ?? 'application/octet-stream', body: readFileSync(file) })
  })
}

test('no page has a word of its own as it is built', async ({ page }) => {
  await serve(page)
  const found: Record<string, string[]> = {}
  for (const path of pages) {
    await page.goto(path)
    await watchWords(page, plainEnglish)
    const words = await seenWords(page)
    if (words.length > 0) found[path] = words
  }
  expect(found).toEqual({})
})

for (const path of pages.filter((each) => each.startsWith('/embed/'))) {
  test(`${path}: no word of its own comes up while it is used`, async ({ page }) => {
    page.setDefaultTimeout(60_000)
    await serve(page)
    await page.goto(path)
    await wakeFigures(page)
    await watchWords(page, plainEnglish)
    await openEverything(page)
    // Every choice once, and every field with something that cannot be.
    for (const select of await page.locator('main select').all()) {
      const values = await select
        .locator('option:not([disabled])')
        .evaluateAll((all) => all.map((each) => (each as HTMLOptionElement).value))
      for (const value of values) if (await select.isVisible()) await select.selectOption(value)
    }
    for (const box of await page.locator('main input[type=radio], main input[type=checkbox]').all())
      if ((await box.isVisible()) && (await box.isEnabled())) await box.click({ force: true })
    for (const field of await page.locator('main input[type=number], main input[type=text]').all()) {
      if (!(await field.isVisible()) || !(await field.isEnabled())) continue
      await field.fill('')
      await field.pressSequentially('99999')
      await field.blur()
    }
    for (const slider of await page.locator('main [role=slider]').all()) {
      if (!(await slider.isVisible())) continue
      await slider.focus()
      await page.keyboard.press('ArrowUp')
    }
    // Pressed as it stands: one press may take the next button away.
    for (const button of await page.locator('main button').all())
      if (await button.isVisible()) await button.evaluate((each: HTMLButtonElement) => each.click())
    expect(await seenWords(page)).toEqual([])
  })
}
