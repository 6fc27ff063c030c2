import { expect, type Page } from '@playwright/test'
import { expectAccessible, longWork } from './page-checks.ts'
import { test } from './test.ts'

const figure = (page: Page) => page.getByRole('region', { name: 'Steer the bass' })
const section = (page: Page) => figure(page).getByRole('region', { name: 'Boxes in each other’s way' })
const sentence = (page: Page) => figure(page).locator('.sentence')
const solve = (page: Page) => section(page).getByRole('button', { name: 'compare with each box alone' })

/** Opens the figure alone, alive. */
async function open(page: Page, query = '') {
  await page.goto(`/embed/steer-the-bass/${query}`)
  await figure(page).scrollIntoViewIfNeeded()
  await expect(page.locator('astro-island[ssr]')).toHaveCount(0)
}

test('boxes are solved together; the trim can be taken over and taken back', async ({ page }) => {
  await open(page, '?steer.v=1&steer.spacingM=0.75&steer.delayS=0.0022')
  await solve(page).click()
  const take = section(page).getByRole('button', { name: 'take the trimmed delay and level' })
  await expect(take).toBeVisible(longWork)
  await expect(section(page).getByRole('status')).toHaveText(
    /^Solved together, the set keeps \d+ dB from the back, not /,
  )
  const cells = section(page)
    .getByRole('row', { name: /^rejection: front over behind/ })
    .getByRole('cell')
  const [alone = 0, together = 0, trimmed = 0] = (await cells.allTextContents()).map((text) =>
    Number.parseFloat(text.replace('−', '-')),
  )
  expect(together).toBeLessThan(alone)
  expect(trimmed).toBeGreaterThan(together)
  await expectAccessible(page)
  // By now the figure has answered for the link.
  const said = (await sentence(page).textContent()) ?? ''
  await take.click()
  await expect(sentence(page)).not.toHaveText(said)
  await expect(section(page).getByText(/Taken over/)).toBeVisible()
  await section(page).getByRole('button', { name: 'back to the setting before' }).click()
  await expect(sentence(page)).toHaveText(said)
  await expect(section(page).getByText(/for the setting before/)).toHaveCount(0)
})

test('the work can be stopped, and another setting ends it', async ({ page }) => {
  // Six boxes take long enough to be stopped; on grass the figure does not solve them for itself.
  await open(
    page,
    '?steer.v=1&steer.place=grass&steer.arrangement=end-fire&steer.count=6&steer.spacingM=0.9&steer.polarity=same&steer.tableZM=-7.8',
  )
  const stop = section(page).getByRole('button', { name: 'stop solving' })
  await solve(page).click()
  await stop.click()
  await expect(solve(page)).toBeVisible()
  await expect(section(page).getByRole('table')).toHaveCount(0)
  await solve(page).click()
  await expect(stop).toBeVisible()
  await figure(page).getByRole('slider', { name: 'your band from' }).press('ArrowRight')
  await expect(solve(page)).toBeVisible()
})

test('points are told that there is nothing to solve', async ({ page }) => {
  await open(page, '?steer.v=1&steer.point=yes')
  await solve(page).click()
  await expect(section(page).getByRole('status')).toHaveText(/Points have no bodies/)
})
