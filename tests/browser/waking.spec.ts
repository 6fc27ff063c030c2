// A figure whose code is late or never comes: what a reader does to it meanwhile is done when it wakes, or is told.
import { expect, type Page, type Route } from '@playwright/test'
import { nothing } from './readers.ts'
import { test } from './test.ts'

/** Holds back the code of a figure until it is let go. */
async function holdCode(page: Page, file: RegExp) {
  const held: Route[] = []
  let free = false
  await page.route(file, async (route) => {
    if (free) return route.continue()
    held.push(route)
  })
  return {
    held,
    async letGo() {
      free = true
      for (const route of held) await route.continue()
    },
  }
}
// A reader who has not been here before.
test.use({ kept: nothing })

const note = (page: Page) => page.locator('.waking')
const walk = (page: Page) => page.getByRole('region', { name: 'Walk round a loudspeaker' })
const steer = (page: Page) => page.getByRole('region', { name: 'Steer the bass' })

test('folds and keys before a figure wakes are told, and done in their order when it does', async ({ page }) => {
  const code = await holdCode(page, /\/WalkRound\.[^/]*\.js/)
  await page.goto('/embed/walk-round/')
  await expect.poll(() => code.held.length).toBeGreaterThan(0)
  await walk(page).locator('div.change > details.change > summary').click()
  await expect(note(page)).toHaveText('The figure is waking up. What you chose is done as soon as it has.')
  await walk(page)
    .getByRole('slider', { name: /^Listener/ })
    .focus()
  await page.keyboard.press('ArrowLeft')
  for (let press = 0; press < 2; press++) await page.keyboard.press('ArrowUp')
  await code.letGo()
  await expect(note(page)).toHaveCount(0)
  await expect(page).toHaveURL(/walk\.angleDeg=-?17\d&walk\.distanceM=3\b/)
  // What stands in the fold is made when it opens.
  await expect(walk(page).getByLabel('plan shows')).toBeVisible()
  await expect(walk(page).locator('.sentence')).toContainText('You are 3 m')
})

test('the ways to send a figure are there when their fold was opened before it woke', async ({ page }) => {
  const code = await holdCode(page, /\/WalkRound\.[^/]*\.js/)
  await page.goto('/')
  await expect.poll(() => code.held.length).toBeGreaterThan(0)
  await walk(page)
    .locator('summary', { hasText: /^send$/ })
    .click()
  await expect(note(page)).toHaveCount(1)
  await code.letGo()
  await expect(walk(page).getByRole('button', { name: 'copy the link' })).toBeVisible()
})

test('a key and a button before their figure wakes are pressed when it does, in their order', async ({ page }) => {
  const code = await holdCode(page, /\/WallDistance\.[^/]*\.js/)
  await page.goto('/embed/wall-distance/')
  await expect.poll(() => code.held.length).toBeGreaterThan(0)
  await page.getByRole('slider').first().focus()
  await page.keyboard.press('ArrowRight')
  await page.getByRole('button', { name: 'against the wall' }).click()
  await expect(note(page)).toHaveCount(1)
  await code.letGo()
  await expect(note(page)).toHaveCount(0)
  await expect(page.locator('.sentence')).toHaveText(/^The wall 5 cm behind the back cuts/)
})

test('a choice before its figure wakes is made when it does', async ({ page }) => {
  const code = await holdCode(page, /\/SteerBass\.[^/]*\.js/)
  await page.goto('/embed/steer-the-bass/')
  await expect.poll(() => code.held.length).toBeGreaterThan(0)
  await steer(page).locator('div.change > details.change > summary').click()
  const set = steer(page).getByLabel('boxes stand as')
  const wanted = await set.evaluate((choice: HTMLSelectElement) => [...choice.options].find((o) => !o.selected)?.value)
  await set.selectOption(wanted ?? '')
  await code.letGo()
  await expect(page.locator('astro-island[ssr]')).toHaveCount(0)
  await expect(set).toHaveValue(wanted ?? '')
})

test('what is typed into a form before it wakes is in the answer', async ({ page }) => {
  const code = await holdCode(page, /\/OwnBox\.[^/]*\.js/)
  await page.goto('/embed/own-box/')
  await expect.poll(() => code.held.length).toBeGreaterThan(0)
  await page.locator('div.change > details > summary').click()
  await page.getByLabel(/^width/).fill('0.7')
  await code.letGo()
  await expect(page.locator('astro-island[ssr]')).toHaveCount(0)
  await expect(page.getByLabel(/^width/)).toHaveValue('0.7')
  await expect(page).toHaveURL(/widthM=0\.7/)
})

test('a figure whose code fails says so at once, and keeps its first state', async ({ page }) => {
  await page.route(/\/WalkRound\.[^/]*\.js/, (route) => route.abort('failed'))
  await page.goto('/embed/walk-round/')
  await expect(note(page)).toContainText('The figure shows its first state and does not move yet')
  await expect(walk(page).locator('.sentence')).toContainText('Bass is')
  await page.unroute(/\/WalkRound\.[^/]*\.js/)
  await note(page).getByRole('button', { name: 'load the page again' }).click()
  await expect(page.locator('astro-island[ssr]')).toHaveCount(0)
  await walk(page).locator('div.change > details.change > summary').click()
  await walk(page).getByRole('slider', { name: 'direction' }).fill('90')
  await expect(walk(page).locator('.sentence')).toContainText('beside the loudspeaker')
  await expect(note(page)).toHaveCount(0)
})

test('a figure whose code never comes says so after its time', async ({ page }) => {
  await page.clock.install()
  const code = await holdCode(page, /\/SteerBass\.[^/]*\.js/)
  await page.goto('/embed/steer-the-bass/')
  await expect.poll(() => code.held.length).toBeGreaterThan(0)
  await expect(note(page)).toHaveCount(0)
  await page.clock.fastForward('00:25')
  await expect(note(page)).toContainText('Is the connection gone?')
  await expect(steer(page).locator('.sentence')).not.toBeEmpty()
  // Late is better than never.
  await code.letGo()
  await expect(note(page)).toHaveCount(0)
})
