import AxeBuilder from '@axe-core/playwright'
import { expect, type Page, test } from '@playwright/test'

/** Every page of the site that a reader can reach. */
const pages = [
  '/',
  '/lessons/',
  '/lessons/walk-round-the-back/',
  '/lessons/small-box-long-wave/',
  '/lessons/what-a-horn-holds/',
  '/lessons/tall-and-thin/',
  '/lessons/what-your-ear-makes-of-it/',
  '/lessons/the-wall-joins-in/',
  '/lessons/the-hall-fills-the-rest/',
  '/lessons/bass-that-takes-sides/',
  '/answers/',
  '/answers/why-more-bass-behind/',
  '/answers/can-you-keep-the-bass-off-our-tables/',
  '/own-box/',
  '/evidence/',
  '/glossary/',
  '/sources/',
  '/safety/',
  '/embed/walk-round/',
  '/embed/own-box/',
  '/embed/box-and-wave/',
  '/embed/horn/',
  '/embed/column/',
  '/embed/equal-loudness/',
  '/embed/loudness-stack/',
  '/embed/blind-comparison/',
  '/embed/wall-distance/',
  '/embed/hall-parts/',
  '/embed/steer-the-bass/',
]
const themes = ['light', 'dark'] as const

/** Collects whatever the page says on the console and whatever it asks of other hosts. */
function listen(page: Page) {
  const heard: string[] = []
  page.on('console', (message) => heard.push(`${message.type()}: ${message.text()}`))
  page.on('pageerror', (error) => heard.push(`error: ${error.message}`))
  page.on('request', (request) => {
    const { hostname, protocol } = new URL(request.url())
    if (hostname !== 'localhost' && protocol !== 'blob:' && protocol !== 'data:')
      heard.push(`request: ${request.url()}`)
  })
  return heard
}

const withTheme = (page: Page, theme: string) =>
  page.addInitScript((kept) => localStorage.setItem('round-the-back.preferences', kept), JSON.stringify({ theme }))

/** Scrolls to the end and back, so that every widget that waits to be seen is live. */
async function wakeWidgets(page: Page) {
  await page.evaluate(async () => {
    for (let top = 0; top < document.body.scrollHeight; top += 500) {
      scrollTo(0, top)
      await new Promise((resolve) => setTimeout(resolve, 30))
    }
    scrollTo(0, 0)
  })
  await expect(page.locator('astro-island[ssr]')).toHaveCount(0)
}

for (const path of pages) {
  for (const theme of themes) {
    test(`${path} in ${theme} has no accessibility violation, says nothing on the console and asks no other host`, async ({
      page,
      context,
    }) => {
      const heard = listen(page)
      await withTheme(page, theme)
      await page.goto(path)
      await wakeWidgets(page)
      await page.waitForTimeout(300)
      const { violations } = await new AxeBuilder({ page }).analyze()
      expect(violations.map(({ id, nodes }) => `${id}: ${nodes.map(({ target }) => target).join(' ')}`)).toEqual([])
      expect(heard).toEqual([])
      expect(await context.cookies()).toEqual([])
    })
  }

  test(`${path} does not scroll sideways from 360 to 1920 px`, async ({ page }) => {
    await page.goto(path)
    for (const width of [360, 390, 600, 768, 1024, 1280, 1920]) {
      await page.setViewportSize({ width, height: 800 })
      await page.waitForTimeout(60)
      const over = await page.evaluate(
        () => document.documentElement.scrollWidth - document.documentElement.clientWidth,
      )
      expect(over, `${width} px`).toBeLessThanOrEqual(0)
    }
  })
}

test('every page carries the content security policy: no inline script or style but by hash, style attributes alone excepted', async ({
  page,
}) => {
  for (const path of pages) {
    await page.goto(path)
    const policy = await page.locator('meta[http-equiv="content-security-policy"]').getAttribute('content')
    expect(policy).toContain("default-src 'none'")
    expect(policy).toContain("worker-src 'self'")
    const directives = Object.fromEntries(
      (policy ?? '').split(';').map((part) => part.trim().split(/ (.*)/s).slice(0, 2)),
    )
    expect(directives['script-src']).not.toMatch(/unsafe|blob:|data:|\*/)
    expect(directives['style-src']).not.toMatch(/unsafe|blob:|data:|\*/)
    expect(directives['style-src-attr']).toBe("'unsafe-inline'")
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
      await expect(page.getByRole('button')).toHaveCount(0)
    })
  }
})
