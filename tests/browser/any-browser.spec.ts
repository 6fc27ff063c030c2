// What other browsers than the one that runs these tests need of the page, as far as it can be seen from here.
import { globSync, readFileSync } from 'node:fs'
import { join } from 'node:path'
import { expect } from '@playwright/test'
import { wakeFigures } from './page-checks.ts'
import { test } from './test.ts'

const site = join(import.meta.dirname, '../results/site')
/** Every page with a figure: the lessons, the answers and the reader's own box. */
const pages = globSync('{lessons,answers}/*/index.html', { cwd: site })
  .map((file) => `/${file.replace('index.html', '')}`)
  .concat('/', '/own-box/')
  .sort()

/** Red, green and blue of #rgb or #rrggbb, 0 … 255. */
const channels = (hex: string): number[] =>
  (hex.length === 4 ? [...hex.slice(1)].map((digit) => digit + digit) : (hex.slice(1).match(/../g) ?? [])).map((two) =>
    Number.parseInt(two, 16),
  )

test.describe.configure({ timeout: 180_000 })

test('the pages with figures are found', () => {
  expect(pages.length).toBeGreaterThan(8)
})

for (const path of pages) {
  test(`${path}: no text is selected while a handle is held, and the handle keeps the focus`, async ({ page }) => {
    await page.goto(path)
    await wakeFigures(page)
    const handles = page.locator('svg :is([role="slider"], .handle):visible')
    /** Whether a selection that begins at a text outside every drawing is refused. */
    const isRefused = () =>
      page.evaluate(
        () =>
          !document.querySelector('h1')?.dispatchEvent(new Event('selectstart', { bubbles: true, cancelable: true })),
      )
    for (const handle of await handles.all()) {
      await handle.scrollIntoViewIfNeeded()
      const name = (await handle.getAttribute('aria-label')) ?? 'a mark of a guess'
      // Where the pointer meets the handle itself: another one may lie over its middle.
      const spot = await handle.evaluate((element) => {
        const { left, top, width, height } = element.getBoundingClientRect()
        for (let row = 1; row < 20; row++)
          for (let column = 1; column < 10; column++) {
            const [x, y] = [left + (column / 10) * width, top + (row / 20) * height]
            if (element.contains(document.elementFromPoint(x, y))) return { x, y }
          }
        return undefined
      })
      expect(spot, `${name} can be reached`).toBeDefined()
      if (!spot) continue
      expect(await isRefused()).toBe(false)
      await page.mouse.move(spot.x, spot.y)
      await page.mouse.down()
      expect(await isRefused(), name).toBe(true)
      if ((await handle.getAttribute('tabindex')) === '0') await expect(handle).toBeFocused()
      await page.mouse.up()
      expect(await isRefused(), `${name}, let go`).toBe(false)
    }
  })
}

for (const [name, prefer] of [
  ['the system’s dark', 'dark'],
  ['the reader’s own dark', 'light'],
] as const) {
  test(`printed from ${name}, everything is dark on white`, async ({ page }) => {
    await page.emulateMedia({ colorScheme: prefer })
    if (prefer === 'light')
      await page.addInitScript(() => localStorage.setItem('round-the-back.preferences', '{"theme":"dark"}'))
    await page.goto('/lessons/walk-round-the-back/')
    const colours = () =>
      page.evaluate(() => {
        const style = getComputedStyle(document.documentElement)
        const names = ['--paper', '--ink', '--front', '--behind', '--behind-text', '--touch', '--touch-text']
        return Object.fromEntries(names.map((each) => [each, style.getPropertyValue(each)]))
      })
    const screen = await colours()
    expect(screen['--ink']).toBe('#e9e4d9')
    await page.emulateMedia({ colorScheme: prefer, media: 'print' })
    const { '--paper': paper, ...inks } = await colours()
    expect(paper).toMatch(/^(#fff|#ffffff|white)$/)
    for (const [each, ink] of Object.entries(inks)) {
      const [red = Number.NaN, green = Number.NaN, blue = Number.NaN] = channels(ink)
      // 0.2126 … 0.0722: the weights of sRGB's primaries in lightness; half of white's value is a dark ink.
      expect(0.2126 * red + 0.7152 * green + 0.0722 * blue, `${each} ${ink}`).toBeLessThan(255 / 2)
    }
  })
}

test('style sheets carry the prefixed names that WebKit still asks for', () => {
  const css = globSync('_astro/*.css', { cwd: site }).map((file) => readFileSync(join(site, file), 'utf8'))
  const all = css.join('\n')
  const count = (pattern: RegExp) => all.match(pattern)?.length ?? 0
  for (const property of ['user-select', 'text-size-adjust']) {
    const plain = count(new RegExp(`(?<![-\\w])${property}:`, 'g'))
    expect(plain, property).toBeGreaterThan(0)
    expect(count(new RegExp(`-webkit-${property}:`, 'g')), property).toBe(plain)
  }
})
