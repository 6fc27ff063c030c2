import { expect, type Page } from '@playwright/test'
import { expectAccessible } from './page-checks.ts'
import { test } from './test.ts'

const path = '/lessons/the-wall-joins-in/'
const wall = (page: Page) => page.getByRole('region', { name: 'The wall behind the loudspeaker' })
const guess = (page: Page) => page.getByRole('region', { name: 'Guess which frequency the wall cancels' })

/** Opens the lesson, or the figure alone, with what is on it alive. */
async function open(page: Page, query = '', at = '/embed/wall-distance/') {
  await page.goto(`${at}${query}`)
  await wall(page).scrollIntoViewIfNeeded()
  await expect(page.locator('astro-island[ssr]')).toHaveCount(0)
}

test('the first state is the case of the lesson, at half a wave', async ({ page }) => {
  await open(page)
  await expect(wall(page).locator('.sentence')).toHaveText(
    /^The wall 1\.04 m behind the back cuts 4\d Hz by \d dB in front and lifts \d+ Hz by \d dB\. Between box and wall/,
  )
  await expect(wall(page).locator('.train')).toHaveText(/^At 50 Hz .* out of step\. It takes \d dB away\.$/)
  await expect(wall(page).locator('canvas')).toBeVisible()
})

test('a whole wave there and back adds: the preset and the button say so', async ({ page }) => {
  await open(page)
  await wall(page).getByRole('button', { name: 'against the wall' }).click()
  await expect(wall(page).locator('.sentence')).toHaveText(/^The wall 5 cm behind the back cuts \d+ Hz/)
  await wall(page).getByRole('button', { name: '3.4 m there and back' }).click()
  await expect(wall(page).locator('.train')).toHaveText(/^At 100 Hz .* in step\. It adds \d dB\.$/)
  await wall(page)
    .getByRole('button', { name: /^half a wave/ })
    .click()
  await expect(wall(page).locator('.train')).toHaveText(/^At 50 Hz .* out of step/)
})

test('the box is slid by keys and by mouse and stops at the wall; the place behind stops at the box and the page says so', async ({
  page,
}) => {
  await open(page)
  const box = wall(page).getByRole('slider', { name: /^Loudspeaker/ })
  await box.focus()
  await page.keyboard.press('Home')
  await expect(box).toHaveAttribute('aria-valuenow', '0.05')
  await page.keyboard.press('ArrowLeft')
  await expect(box).toHaveAttribute('aria-valuenow', '0.05')
  await expect(wall(page).getByText('Only 5 cm are left between box and wall')).toBeVisible()
  await page.keyboard.press('PageUp')
  await expect(box).toHaveAttribute('aria-valuenow', '0.55')
  await expect(wall(page).getByText('are left between box and wall')).toHaveCount(0)
  const shape = await box.locator('polygon').last().boundingBox()
  if (!shape) throw new Error('no box')
  await page.mouse.move(shape.x + shape.width / 2, shape.y + shape.height / 2)
  await page.mouse.down()
  await page.mouse.move(shape.x + shape.width / 2 + 200, shape.y, { steps: 4 })
  await page.mouse.up()
  const gapM = async () => Number(await box.getAttribute('aria-valuenow'))
  await expect.poll(gapM).toBeGreaterThan(1.5)
  await expect(page).toHaveURL(new RegExp(`wall.gapM=${await gapM()}`))
})

test('a link is restored; what lies outside is dropped and named', async ({ page }) => {
  await open(page, '?wall.v=1&wall.gapM=0.6&wall.side=with&wall.floor=with&wall.rig=compact-two-way&wall.frontM=99')
  await expect(wall(page).getByRole('status').first()).toContainText('frontM “99” (outside 1 to 5 m)')
  await expect(wall(page).locator('.sentence')).toHaveText(/^The wall 60 cm behind the back/)
  await expect(wall(page).getByRole('slider', { name: /^side wall to the box/ })).toBeVisible()
})

test('the table twin has every narrow band', async ({ page }) => {
  await open(page)
  await wall(page).locator('summary', { hasText: 'table' }).click()
  await expect(
    wall(page)
      .getByRole('region', { name: /1\/24 octave/ })
      .locator('tbody tr'),
  ).toHaveCount(104)
})

test('with the wall and without it can be heard; nothing loads before a press', async ({ page }) => {
  const scripts: string[] = []
  page.on('request', (request) => scripts.push(new URL(request.url()).pathname))
  await open(page)
  expect(scripts.filter((name) => /audition/i.test(name))).toEqual([])
  const play = wall(page).getByRole('button', { name: 'In front, with the wall' })
  await play.click()
  // The sound is made on the first press, which takes seconds where little else gets done.
  await expect(play).toHaveAttribute('aria-pressed', 'true')
  await wall(page).getByRole('button', { name: 'without it' }).click()
  await expect(play).toHaveAttribute('aria-pressed', 'false')
  await wall(page).getByRole('button', { name: 'stop' }).click()
})

test('the guess: who marks 100 Hz is told the slip', async ({ page }) => {
  await page.goto(path)
  await guess(page).scrollIntoViewIfNeeded()
  const slider = guess(page).getByRole('slider')
  await expect(slider).toBeVisible()
  await expect(guess(page).locator('xpath=ancestor::astro-island')).not.toHaveAttribute('ssr')
  await slider.focus()
  for (let press = 0; press < 26; press++) await page.keyboard.press('ArrowRight')
  await guess(page).getByRole('button', { name: 'show the answer' }).click()
  await expect(guess(page).locator('.sentence')).toHaveText(/^This is the common slip\. A whole wave of 100 Hz/)
  for (let press = 0; press < 50; press++) await slider.press('ArrowLeft')
  await expect(guess(page).locator('.sentence')).toHaveText(/^Right\./)
})

test('the figure with all walls on has no accessibility violation, on a narrow screen and on a wide one', async ({
  page,
}) => {
  await open(page, '?wall.v=1&wall.gapM=0.1&wall.fromWallM=3&wall.side=with&wall.floor=with')
  await expect(wall(page).locator('.sentence')).toHaveText(/10 cm/)
  for (const width of [390, 1280]) {
    await page.setViewportSize({ width, height: 900 })
    await expectAccessible(page, '.wall')
  }
})

test.describe('without JavaScript', () => {
  test.use({ javaScriptEnabled: false })
  test('words, picture, curves and the table of distances are there', async ({ page }) => {
    await page.goto(path)
    await expect(page.locator('.prose > h2')).toHaveText(['Guess', 'See', 'Hear', 'Why', 'Do'])
    await expect(wall(page).locator('.sentence')).toHaveText(/^The wall 1\.04 m behind the back cuts/)
    const still = wall(page).locator('img')
    expect(await still.evaluate((image: HTMLImageElement) => image.decode().then(() => image.naturalWidth))).toBe(81)
    await expect(wall(page).locator('.levels path').first()).toBeAttached()
    await expect(page.getByRole('region', { name: 'Where the first dip lies' }).locator('tbody tr')).toHaveCount(6)
  })
})
