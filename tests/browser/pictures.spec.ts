// Pictures of what somebody with a phone and half a minute sees, for people to look at: tests/results/pictures.
import { join } from 'node:path'
import { expect } from '@playwright/test'
import { builtPages } from './built-pages.ts'
import { framesPass, wakeFigures } from './page-checks.ts'
import { nothing } from './readers.ts'
import { test } from './test.ts'

test.use({ kept: nothing, viewport: { width: 390, height: 844 } })

const folder = join(import.meta.dirname, '../results/pictures')
const pages = ['/', ...builtPages.filter((path) => /^\/answers\/.+/.test(path))]

for (const path of pages)
  test(`pictures of ${path}`, async ({ page }) => {
    await page.goto(path)
    await wakeFigures(page)
    await page.evaluate(() => document.fonts.ready)
    const name = path === '/' ? 'home' : path.split('/').at(-2)
    for (const screen of [0, 1]) {
      await page.evaluate((top) => scrollTo({ top, behavior: 'instant' }), screen * 844)
      await framesPass(page, 3)
      const picture = await page.screenshot({ path: join(folder, `${name}-${screen + 1}.png`) })
      expect(picture.length).toBeGreaterThan(0)
    }
  })
