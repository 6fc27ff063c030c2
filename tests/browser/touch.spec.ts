// Fingers, as a phone's screen sends them: one that goes on down the page changes nothing, wherever it comes down; one that
// moves along a slider, a line or a handle moves it at once.
import { type CDPSession, expect, type Page } from '@playwright/test'
import { framesPass, wakeFigures } from './page-checks.ts'
import { test } from './test.ts'

type Spot = { x: number; y: number }
const upright = { width: 390, height: 844 }
const onItsSide = { width: 844, height: 390 }

const touch = (client: CDPSession, type: 'touchStart' | 'touchMove' | 'touchEnd', at?: Spot) =>
  client.send('Input.dispatchTouchEvent', { type, touchPoints: at ? [at] : [] })

/** A finger that comes down, moves in small steps and lifts. */
async function swipe(page: Page, from: Spot, by: Spot): Promise<void> {
  const client = await page.context().newCDPSession(page)
  await touch(client, 'touchStart', from)
  for (let step = 1; step <= 12; step++)
    await touch(client, 'touchMove', { x: from.x + (by.x * step) / 12, y: from.y + (by.y * step) / 12 })
  await touch(client, 'touchEnd')
  await client.detach()
}
async function middleOf(page: Page, selector: string): Promise<Spot> {
  const found = page.locator(selector).first()
  // A page that a swipe has set going glides on for a while.
  await expect
    .poll(async () => {
      const before = await scrolledPx(page)
      await framesPass(page, 5)
      return (await scrolledPx(page)) - before
    })
    .toBe(0)
  await found.evaluate((element) => element.scrollIntoView({ block: 'center', behavior: 'instant' }))
  const box = await found.boundingBox()
  if (!box) throw new Error(`${selector} is not drawn`)
  return { x: box.x + box.width / 2, y: box.y + box.height / 2 }
}
const scrolledPx = (page: Page) => page.evaluate(() => scrollY)
const down: Spot = { x: 3, y: -140 }

for (const viewport of [upright, onItsSide]) {
  test.describe(`${viewport.width} × ${viewport.height}`, () => {
    test.use({ viewport, hasTouch: true, isMobile: true })

    test('a slider lets a passing finger scroll, follows one that slides, and takes a tap', async ({ page }) => {
      await page.goto('/embed/walk-round/')
      await wakeFigures(page)
      const slider = page.getByRole('slider', { name: 'direction' })
      const address = page.url()
      const at = await middleOf(page, '.rail:has(input[max="180"])')
      const [before, top] = [await slider.inputValue(), await scrolledPx(page)]
      await swipe(page, at, down)
      await expect.poll(() => scrolledPx(page)).toBeGreaterThan(top + 50)
      expect(await slider.inputValue()).toBe(before)
      expect(page.url()).toBe(address)

      const again = await middleOf(page, '.rail:has(input[max="180"])')
      await swipe(page, again, { x: 60, y: 4 })
      await expect(slider).not.toHaveValue(before)
      const slid = await slider.inputValue()
      const tapped = await middleOf(page, '.rail:has(input[max="180"])')
      await page.touchscreen.tap(tapped.x - 80, tapped.y)
      await expect(slider).not.toHaveValue(slid)
    })

    test('a line across a chart lets a passing finger scroll, and follows one that moves sideways', async ({
      page,
    }) => {
      await page.goto('/embed/steer-the-bass/')
      await wakeFigures(page)
      const line = page.locator('.chart .handle.x').first()
      const at = await middleOf(page, '.chart .handle.x .grip')
      const [before, top] = [await line.getAttribute('aria-valuenow'), await scrolledPx(page)]
      await swipe(page, at, down)
      await expect.poll(() => scrolledPx(page)).toBeGreaterThan(top + 50)
      expect(await line.getAttribute('aria-valuenow')).toBe(before)
      const again = await middleOf(page, '.chart .handle.x .grip')
      await swipe(page, again, { x: 70, y: 6 })
      await expect(line).not.toHaveAttribute('aria-valuenow', before ?? '')
    })

    test('a plan scrolls under a passing finger; the listener follows the one that takes it', async ({ page }) => {
      await page.goto('/embed/walk-round/')
      await wakeFigures(page)
      const listener = page.getByRole('slider', { name: /^Listener/ })
      const plan = await middleOf(page, '.plan')
      const [before, top] = [await listener.getAttribute('aria-valuetext'), await scrolledPx(page)]
      await swipe(page, { x: plan.x + 40, y: plan.y + 60 }, down)
      await expect.poll(() => scrolledPx(page)).toBeGreaterThan(top + 50)
      expect(await listener.getAttribute('aria-valuetext')).toBe(before)
      const head = await middleOf(page, '.plan .handle .grip')
      await swipe(page, head, { x: 20, y: 60 })
      await expect(listener).not.toHaveAttribute('aria-valuetext', before ?? '')
    })
  })
}
