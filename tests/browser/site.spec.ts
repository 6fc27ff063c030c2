import { globSync, readFileSync } from 'node:fs'
import { join } from 'node:path'
import { gzipSync } from 'node:zlib'
import { expect } from '@playwright/test'
import postcss, { type AtRule, type Rule } from 'postcss'
import { builtPages } from './built-pages.ts'
import { test } from './test.ts'

const site = join(import.meta.dirname, '../results/site')

test('a dark page differs in its colours alone, so that in the dark the rules of colours are all there is to ask', () => {
  const differences = globSync('_astro/*.css', { cwd: site }).flatMap((file) => {
    const found: string[] = []
    postcss.parse(readFileSync(join(site, file), 'utf8')).walkDecls(({ prop, value, parent }) => {
      const within: string[] = []
      for (let at = parent as Rule | AtRule | undefined; at; at = at.parent as typeof at)
        within.push('selector' in at ? at.selector : (at.params ?? ''))
      if (/data-theme="?dark|prefers-color-scheme: ?dark/.test(within.join(' '))) found.push(`${prop}: ${value.trim()}`)
    })
    return found
  })
  expect(differences.length).toBeGreaterThan(10)
  // The stills are drawn in ink on paper, and turned over.
  const colours = /^(--[\w-]+: (#[0-9a-f]{3,8}|initial)?|color-scheme: dark|filter: invert\(1?\))$/
  expect(differences.filter((each) => !colours.test(each))).toEqual([])
})

test('every page carries the content security policy: no inline script or style but by hash, style attributes alone excepted', async ({
  request,
}) => {
  for (const path of builtPages) {
    const html = await (await request.get(path)).text()
    const policy = /<meta http-equiv="content-security-policy" content="([^"]*)"/i.exec(html)?.[1] ?? ''
    expect(policy, path).toContain("default-src 'none'")
    expect(policy, path).toContain("worker-src 'self'")
    const directives = Object.fromEntries(policy.split(';').map((part) => part.trim().split(/ (.*)/s).slice(0, 2)))
    expect(directives['script-src'], path).not.toMatch(/unsafe|blob:|data:|\*/)
    expect(directives['style-src'], path).not.toMatch(/unsafe|blob:|data:|\*/)
    expect(directives['style-src-attr'], path).toBe("'unsafe-inline'")
    expect(Object.keys(directives).filter((name) => name.startsWith('script-src-'))).toEqual([])
  }
})

test('feet and metres switch everywhere at once and are kept', async ({ page }) => {
  await page.goto('/')
  await expect(page.locator('.sentence')).toContainText('2.5 m')
  await page.getByRole('button', { name: 'Lengths in feet' }).click()
  await expect(page.locator('.sentence')).toContainText('8 ft')
  await page.goto('/lessons/walk-round-the-back/')
  await expect(page.locator('.length-ft').first()).toBeVisible()
  await expect(page.locator('.length-m').first()).toBeHidden()
})

test('the dark page is kept from page to page', async ({ page }) => {
  await page.goto('/')
  await page.getByRole('button', { name: 'Dark page' }).click()
  await page.goto('/evidence/')
  expect(await page.evaluate(() => getComputedStyle(document.documentElement).backgroundColor)).toBe('rgb(18, 24, 28)')
})

test('a page of words fetches the code of its switches when one is pressed, and does then what was pressed', async ({
  page,
}) => {
  const scripts: string[] = []
  page.on('request', (request) => {
    if (request.resourceType() === 'script') scripts.push(new URL(request.url()).pathname)
  })
  await page.goto('/safety/')
  const all = ['/early.js', '/switches.js', '/offline.js']
  await expect.poll(() => scripts.toSorted()).toEqual(all.toSorted())
  const sizes = await Promise.all(all.map(async (path) => gzipSync(await (await page.request.get(path)).body())))
  const [early = Number.NaN, switches = Number.NaN, offline] = sizes.map(({ length }) => length)
  expect(early + switches).toBeLessThan(1000)
  expect(offline).toBeLessThan(750)
  const units = page.getByRole('button', { name: 'Lengths in feet' })
  await expect(units).toHaveAttribute('aria-pressed', 'false')
  await units.click()
  await expect(units).toHaveAttribute('aria-pressed', 'true')
  await page.reload()
  await expect(units).toHaveAttribute('aria-pressed', 'true')
})

test('code of the switches that does not come is said, and fetched again with the next press', async ({ page }) => {
  await page.goto('/glossary/')
  await page.route('**/_astro/**.js', (route) => route.abort())
  await page.getByRole('button', { name: 'Dark page' }).click()
  await expect(page.locator('#page-notice')).not.toBeEmpty()
  await page.unroute('**/_astro/**.js')
  await page.getByRole('button', { name: 'Dark page' }).click()
  await expect(page.locator('html')).toHaveAttribute('data-theme', 'dark')
})

test('dark by the reader’s wish and dark by the system’s are the same', async ({ page }) => {
  await page.goto('/')
  const tokens = () =>
    page.evaluate(() => {
      const style = getComputedStyle(document.documentElement)
      const names = ['paper', 'ink', 'behind', 'touch', 'touch-text', 'behind-text'].map((name) => `--${name}`)
      return [style.colorScheme, ...names.map((name) => style.getPropertyValue(name))]
    })
  const light = await tokens()
  await page.emulateMedia({ colorScheme: 'dark' })
  const bySystem = await tokens()
  await page.emulateMedia({ colorScheme: 'light' })
  await page.getByRole('button', { name: 'Dark page' }).click()
  expect(await tokens()).toEqual(bySystem)
  expect(bySystem).not.toEqual(light)
})

test.describe('without JavaScript', () => {
  test.use({ javaScriptEnabled: false })
  for (const path of ['/', '/lessons/walk-round-the-back/', '/answers/why-more-bass-behind/']) {
    test(`${path} shows the words, the picture, the spectrum and the sentence of the first state`, async ({ page }) => {
      await page.goto(path)
      const walk = page.getByRole('region', { name: 'Walk round a loudspeaker' })
      await expect(walk.locator('.sentence')).toContainText(
        /You are .* behind the loudspeaker\. Bass is .* treble is about \d+ dB quieter\./,
      )
      const still = walk.locator('img')
      await expect(still).toBeVisible()
      expect(await still.evaluate((image: HTMLImageElement) => image.decode().then(() => image.naturalWidth))).toBe(241)
      await expect(walk.locator('.spectrum path').first()).toBeAttached()
      await expect(page.getByRole('button').and(page.locator(':not(.term)'))).toHaveCount(0)
    })
  }
})
