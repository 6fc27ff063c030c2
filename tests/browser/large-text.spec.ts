// A reader who has set the browser's own letters to twice their size.
import { expect } from '@playwright/test'
import { builtPages } from './built-pages.ts'
import { expectNoSidewaysScroll } from './page-checks.ts'
import { test } from './test.ts'

test.use({
  launchOptions: async ({ launchOptions }, use) =>
    use({ ...launchOptions, args: [...(launchOptions.args ?? []), '--blink-settings=defaultFontSize=32'] }),
})

for (const path of builtPages)
  test(`${path} keeps within the screen with letters of twice the size`, async ({ page }) => {
    await page.goto(path)
    const letters = await page.evaluate(() => Number.parseFloat(getComputedStyle(document.documentElement).fontSize))
    expect(letters).toBeGreaterThanOrEqual(32)
    await expectNoSidewaysScroll(page, [1280, 640])
  })
