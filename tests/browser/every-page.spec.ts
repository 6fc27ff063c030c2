// What holds on every page with everything opened and awake, looked at in one visit.
import { expect, type Page } from '@playwright/test'
import { builtPages } from './built-pages.ts'
import { labelFaults } from './label-faults.ts'
import {
  expectAccessible,
  expectNoSidewaysScroll,
  framesPass,
  listen,
  usualWidthsPx,
  wakeFigures,
} from './page-checks.ts'
import { test } from './test.ts'

/** Widths at which the labels of drawings are looked at, px. */
const labelledWidthsPx = [320, 390, 820, 1280]
const widthsPx = [...new Set([...usualWidthsPx, ...labelledWidthsPx])].sort((a, b) => b - a)

/** Keeps what a window reports of a size that is measured in a circle: an error event, not an exception. */
const watchSizes = (page: Page) =>
  page.addInitScript(() => {
    const sizeErrors: string[] = []
    Object.assign(window, { sizeErrors })
    window.addEventListener('error', (event) => sizeErrors.push(event.message), { capture: true })
  })

for (const path of builtPages)
  test(`${path} is accessible in light and dark, stays within the screen, has labels that can be read, says nothing on the console and asks no other host`, async ({
    page,
    context,
  }) => {
    const heard = listen(page)
    await watchSizes(page)
    expect((await page.goto(path))?.status()).toBe(200)
    await expect(page.locator('h1')).toHaveCount(1)
    await wakeFigures(page)
    await expectAccessible(page)
    await page.evaluate(() => document.fonts.ready)
    for (const width of widthsPx) {
      await expectNoSidewaysScroll(page, [width])
      if (!labelledWidthsPx.includes(width)) continue
      await framesPass(page, 1)
      await expect
        .soft(async () => expect(await labelFaults(page), `labels at ${width} px`).toEqual([]))
        .toPass({ timeout: 5_000 })
    }
    // And wider again.
    for (const width of [700, 390, 955, 1280]) await expectNoSidewaysScroll(page, [width])
    expect(await page.evaluate(() => (window as unknown as { sizeErrors: string[] }).sizeErrors)).toEqual([])
    expect(heard).toEqual([])
    expect(await context.cookies()).toEqual([])
  })
