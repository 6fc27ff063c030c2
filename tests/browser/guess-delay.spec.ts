import { expect, type Page } from '@playwright/test'
import { expectAccessible } from './page-checks.ts'
import { test } from './test.ts'

const path = '/lessons/bass-that-takes-sides/'
const guess = (page: Page) => page.getByRole('region', { name: 'Guess the delay of the rear box' })
const slider = (page: Page) => guess(page).getByRole('slider')
const sentence = (page: Page) => guess(page).locator('.sentence')

async function open(page: Page, query = '') {
  await page.goto(`${path}${query}`)
  await guess(page).scrollIntoViewIfNeeded()
  await expect(guess(page).locator('xpath=ancestor::astro-island')).not.toHaveAttribute('ssr')
}

test('whoever sets one way is right, and is told what turning alone would have done', async ({ page }) => {
  await open(page)
  await slider(page).focus()
  for (let press = 0; press < 29; press++) await page.keyboard.press('ArrowRight')
  await expect(sentence(page)).toHaveText(/Drag the orange line/)
  await guess(page).getByRole('button', { name: 'show the answer' }).click()
  await expect(sentence(page)).toHaveText(
    /^Right: the sound needs 3\.9 ms for the 1\.35 m .* With 3\.9 ms, .* \d+ dB less at the table, .* Turning the rear box round and doing nothing else: \d dB less at the table, \d dB less in front\.$/,
  )
  await expect(guess(page).locator('.behind path')).toBeAttached()
  await expect(page).toHaveURL(/guess-delay\.delayMs=3\.9/)
})

test('the two traps are told by name', async ({ page }) => {
  await open(page, '?guess-delay.v=1&guess-delay.delayMs=0&guess-delay.shown=true')
  await expect(sentence(page)).toHaveText(/^That is polarity alone/)
  await slider(page).focus()
  for (let press = 0; press < 79; press++) await page.keyboard.press('ArrowRight')
  await expect(sentence(page)).toHaveText(/^That is the way there and back/)
})

test('the line is dragged by mouse, and stops at the ends of the axis', async ({ page }) => {
  await open(page)
  const handle = guess(page).locator('g.handle circle')
  await handle.scrollIntoViewIfNeeded()
  const box = await handle.boundingBox()
  if (!box) throw new Error('no handle')
  await page.mouse.move(box.x + box.width / 2, box.y + box.height / 2)
  await page.mouse.down()
  await page.mouse.move(box.x + 2000, box.y, { steps: 5 })
  await page.mouse.up()
  await expect(slider(page)).toHaveAttribute('aria-valuetext', '10 ms')
})

test('a delay that the slider does not have is dropped and named', async ({ page }) => {
  await open(page, '?guess-delay.v=1&guess-delay.delayMs=99')
  await expect(guess(page).getByRole('status').first()).toContainText('delayMs “99” (outside 0 to 10 ms)')
  await expect(slider(page)).toHaveAttribute('aria-valuetext', '1 ms')
})

test('with the answer shown it has no accessibility violation, on a narrow screen and on a wide one', async ({
  page,
}) => {
  await open(page, '?guess-delay.v=1&guess-delay.delayMs=3.9&guess-delay.shown=true')
  await expect(sentence(page)).toHaveText(/^Right/)
  for (const width of [390, 1280]) {
    await page.setViewportSize({ width, height: 900 })
    await expectAccessible(page, '.guess')
  }
})

test.describe('without JavaScript', () => {
  test.use({ javaScriptEnabled: false })
  test('words, drawing and tables of the lesson are there', async ({ page }) => {
    await page.goto(path)
    await expect(page.locator('.prose > h2')).toHaveText(['Guess', 'See', 'Hear', 'Why', 'Do'])
    await expect(guess(page).getByRole('img', { name: /^From the side/ })).toBeVisible()
    for (const question of ['What is that in each third octave?', 'What does the sum say?'])
      await page.getByRole('heading', { name: question }).click()
    const byHand = page.getByRole('region', { name: 'Delay and band for a spacing' })
    await expect(byHand.locator('tbody tr')).toHaveCount(7)
    for (const cell of await byHand.locator('tbody td:not(:first-child)').all()) {
      await expect(cell).toHaveText(/^[\d.]+\s(ms|Hz)$/)
    }
    await expect(page.getByRole('region', { name: 'The pair by third octaves' }).locator('tbody tr')).toHaveCount(7)
  })
})
