// What comes out of the printer: an answer is one page; nothing on paper waits for a hand.
import { expect } from '@playwright/test'
import { answers } from './built-pages.ts'
import { wakeFigures } from './page-checks.ts'
import { sheets } from './sheets.ts'
import { test } from './test.ts'

for (const slug of answers)
  test(`the answer ${slug} is one page of paper, with its picture whole`, async ({ page }) => {
    await page.goto(`/answers/${slug}/`)
    await wakeFigures(page)
    expect(await sheets(page)).toBe(1)
    await page.emulateMedia({ media: 'print' })
    await expect(page.locator('.figure canvas, .figure svg').first()).toBeVisible()
    await expect(page.locator('.caution:visible, a[href="/safety/"]:visible').first()).toBeVisible()
  })

for (const path of [
  '/answers/why-more-bass-behind/',
  '/lessons/the-wall-joins-in/',
  '/lessons/the-hall-fills-the-rest/',
])
  test(`${path}: nothing on paper waits for a hand or is still being worked out`, async ({ page }) => {
    await page.goto(path)
    await wakeFigures(page)
    await page.emulateMedia({ media: 'print' })
    await page.evaluate(() => dispatchEvent(new Event('beforeprint')))
    // A word that opens on the screen is a word on paper.
    const live = await page
      .locator('main :is(button:not(.term), select, input, [role=status], nav a)')
      .evaluateAll((all) => all.filter((each) => each.checkVisibility()).map((each) => each.outerHTML.slice(0, 120)))
    expect(live).toEqual([])
    // The steps of a lesson may ask to drag; its figures, which lie still, may not.
    const asks = page.locator('main :is(.figure, .guess)').getByText(/\bdrag\b|Computing|Working out/i)
    const seen = asks.evaluateAll((all) => all.filter((each) => each.checkVisibility()).map((each) => each.textContent))
    expect(await seen).toEqual([])
  })
