import AxeBuilder from '@axe-core/playwright'
import { expect, type Locator, type Page } from '@playwright/test'

// What several specs look at on a page. Nothing here waits for a length of time: each function waits for what it needs.

/** Widths from the narrowest phone to a wide desk, px. */
export const usualWidthsPx = [360, 390, 600, 768, 1024, 1280, 1920]

/** For work of many seconds, a box that is solved or a search: a minute and more where little else gets done. */
export const longWork = { timeout: 90_000 }

/** Collects whatever the page says on the console and whatever it asks of other hosts. To be called before the page opens. */
export function listen(page: Page): string[] {
  const heard: string[] = []
  page.on('console', (message) => {
    // What Playwright says of its own doing (`serviceWorkers: 'block'`).
    if (message.text() !== 'Service Worker registration blocked by Playwright')
      heard.push(`${message.type()}: ${message.text()}`)
  })
  page.on('pageerror', (error) => heard.push(`error: ${error.message}`))
  page.on('request', (request) => {
    const { hostname, protocol } = new URL(request.url())
    if (hostname !== 'localhost' && protocol !== 'blob:' && protocol !== 'data:')
      heard.push(`request: ${request.url()}`)
  })
  return heard
}

/** Brings one sleeping figure after the other into view, out of its fold, until every one is awake; then goes back to the top. */
export async function wakeFigures(page: Page): Promise<void> {
  const asleep = () =>
    page.evaluate(() => {
      const islands = document.querySelectorAll('astro-island[ssr]')
      const fold = islands[0]?.closest('details')
      if (fold) fold.open = true
      islands[0]?.firstElementChild?.scrollIntoView({ block: 'center', behavior: 'instant' })
      return islands.length
    })
  await expect.poll(asleep, { intervals: [50] }).toBe(0)
  await page.evaluate(() => scrollTo({ top: 0, behavior: 'instant' }))
}

/** The bar at the foot of the window; it comes with the first press of a figure's switch. */
export const player = (page: Page) => page.getByRole('region', { name: 'Sound of this page' })

/** Presses one end of a figure's switch and waits until it is heard. */
export async function hear(figure: Locator, where: 'here' | 'front' = 'here'): Promise<void> {
  const end = figure.locator(`.place-switch .${where}`)
  await end.click()
  // Music is made first, half a minute of it.
  await expect(end).toHaveAttribute('aria-pressed', 'true', longWork)
}

/** Opens every fold of the page. */
export async function openEverything(page: Page): Promise<void> {
  await page.evaluate(() => {
    for (const fold of document.querySelectorAll('details')) fold.open = true
  })
}

/** Waits until the page has drawn so many times: what follows a change of size or theme has then been laid out. */
export async function framesPass(page: Page, count = 2): Promise<void> {
  await page.evaluate(async (frames) => {
    for (let frame = 0; frame < frames; frame++) await new Promise(requestAnimationFrame)
  }, count)
}

/** The rules of axe that look at colours, which are all that a theme changes (site.spec.ts holds it to that). */
const colourRules = ['color-contrast', 'link-in-text-block']

/**
 * Expects no accessibility violation on the page or in the part of a selector: by every rule in light, and in dark by those of
 * colours. On a page without frames axe runs in one go; by the piece, through a page of its own, as frames need it, it takes four
 * times as long.
 */
export async function expectAccessible(page: Page, part = 'html'): Promise<void> {
  for (const colorScheme of ['light', 'dark'] as const) {
    await page.emulateMedia({ colorScheme })
    await framesPass(page)
    const axe = new AxeBuilder({ page }).include(part).setLegacyMode(page.frames().length === 1)
    const { violations } = await axe
      .options({
        resultTypes: ['violations'],
        ...(colorScheme === 'dark' && { runOnly: { type: 'rule', values: colourRules } }),
      })
      .analyze()
    const found = violations.map(({ id, nodes }) => `${id}: ${nodes.map(({ target }) => target).join(' ')}`)
    expect(found, `in ${colorScheme}`).toEqual([])
  }
}

/** Expects that nothing lies beyond the right edge at any of these widths. */
export async function expectNoSidewaysScroll(page: Page, widthsPx: readonly number[] = usualWidthsPx): Promise<void> {
  for (const width of widthsPx) {
    await page.setViewportSize({ width, height: 800 })
    await page.waitForFunction((wanted) => innerWidth === wanted, width)
    await framesPass(page)
    const beyondPx = await page.evaluate(
      () => document.documentElement.scrollWidth - document.documentElement.clientWidth,
    )
    expect(beyondPx, `${width} px`).toBeLessThanOrEqual(0)
  }
}
