import { readFileSync } from 'node:fs'
import { join } from 'node:path'
import { expect, type Page } from '@playwright/test'
import {
  type BoxPattern,
  boxBandLevels,
  boxEstimateFromHz,
  shadowBegin,
} from '../../src/engine/questions/box/box-pattern.ts'
import { shadowSentence, waveSentence } from '../../src/widgets/box-and-wave/describe-box-and-wave.ts'
import { guessShadowVerdict } from '../../src/widgets/guess-shadow/describe-guess-shadow.ts'
import {
  expectAccessible,
  expectNoSidewaysScroll,
  framesPass,
  hear,
  listen,
  openEverything,
  player,
} from './page-checks.ts'
import { withMotion } from './readers.ts'
import { anotherReader, test } from './test.ts'

test.use(withMotion)

const path = '/lessons/small-box-long-wave/'

const pattern: BoxPattern = JSON.parse(
  readFileSync(join(import.meta.dirname, '../../content/gear/solved/box-pattern.json'), 'utf8'),
)

/** The sentence that the acoustics gives for a state of the widget. */
const expectedSentence = (widthM: number, frequencyHz: number, units: 'm' | 'ft' = 'm') =>
  waveSentence(
    {
      frequencyHz,
      wavelengthM: pattern.speedOfSoundMps / frequencyHz,
      widthM,
      rearDb: boxBandLevels(pattern, widthM, frequencyHz).rearDb,
      estimate: frequencyHz >= boxEstimateFromHz(pattern, widthM),
    },
    units,
  )

const figure = (page: Page) => page.locator('.box-and-wave')
const sentence = (page: Page) => figure(page).locator('.sentence')
const waveEnd = (page: Page) => page.getByRole('slider', { name: /^End of one wave/ })
const guess = (page: Page) => page.getByRole('region', { name: 'Guess where the shadow begins' })

async function open(page: Page, query = '') {
  await page.goto(path + query)
  await guess(page).scrollIntoViewIfNeeded()
  await figure(page).scrollIntoViewIfNeeded()
  await expect(figure(page).locator('.plan canvas')).toBeVisible()
}

test('the first state is the one that was computed at build', async ({ page }) => {
  await open(page)
  await expect(sentence(page)).toHaveText(expectedSentence(0.5, 125))
  await expect(figure(page).locator('.shadow')).toHaveText(shadowSentence(shadowBegin(pattern, 0.5)))
})

test('arrow keys on the end of the wave go by third octaves, and the numbers are the module’s', async ({ page }) => {
  await open(page)
  await waveEnd(page).focus()
  await page.keyboard.press('ArrowLeft')
  await expect(sentence(page)).toHaveText(expectedSentence(0.5, 160))
  await expect(waveEnd(page)).toHaveAttribute('aria-valuetext', '2.1 metres, 160 Hz')
  await page.keyboard.press('End')
  await expect(sentence(page)).toHaveText(expectedSentence(0.5, 4000))
  await page.keyboard.press('Home')
  await expect(sentence(page)).toHaveText(expectedSentence(0.5, 31.5))
})

test('the end of the wave is dragged to scale: half the length is twice the frequency', async ({ page }) => {
  await open(page)
  const [handle, plan] = [
    await waveEnd(page).locator('.mark').boundingBox(),
    await figure(page).locator('.plan').boundingBox(),
  ]
  if (!handle || !plan) throw new Error('the plan is not on the page')
  const y = handle.y + handle.height / 2
  const from = handle.x + handle.width / 2
  const startPx = plan.x + 18
  await page.mouse.move(from, y)
  await page.mouse.down()
  await page.mouse.move(startPx + (from - startPx) / 2, y, { steps: 6 })
  await page.mouse.up()
  await expect(sentence(page)).toHaveText(expectedSentence(0.5, 250))
})

test('a finger drags the end of the wave too', async ({ browser }) => {
  const context = await anotherReader(browser, { hasTouch: true, viewport: { width: 390, height: 844 } })
  const page = await context.newPage()
  await open(page)
  await waveEnd(page).scrollIntoViewIfNeeded()
  const handle = await waveEnd(page).locator('.mark').boundingBox()
  if (!handle) throw new Error('no handle')
  const client = await context.newCDPSession(page)
  const touch = (type: 'touchStart' | 'touchMove' | 'touchEnd', x: number, y: number) =>
    client.send('Input.dispatchTouchEvent', { type, touchPoints: type === 'touchEnd' ? [] : [{ x, y }] })
  const [x, y] = [handle.x + handle.width / 2, handle.y + handle.height / 2]
  await touch('touchStart', x, y)
  const plan = await figure(page).locator('.plan').boundingBox()
  const halfWay = (x - (plan?.x ?? 0) - 18) / 2
  for (let step = 1; step <= 6; step++) await touch('touchMove', x - (halfWay * step) / 6, y)
  await touch('touchEnd', 0, 0)
  // The whole way, not only up to where a browser would begin to scroll.
  await expect(waveEnd(page)).toHaveAttribute('aria-valuenow', '250')
  await context.close()
})

test('a wider box does the same thing at a lower frequency; the table holds the module’s numbers', async ({ page }) => {
  await open(page)
  const width = figure(page).getByRole('slider', { name: /^width of the box/ })
  await width.fill('1')
  await expect(sentence(page)).toHaveText(expectedSentence(1, 125))
  await expect(figure(page).locator('.shadow')).toHaveText(shadowSentence(shadowBegin(pattern, 1)))
  await figure(page).locator('summary', { hasText: 'table' }).click()
  const cells = figure(page).getByRole('row', { name: /^250 / }).getByRole('cell')
  const { sideDb, rearDb, frontGainDb } = boxBandLevels(pattern, 1, 250)
  await expect(cells.nth(3)).toHaveText(sideDb.toFixed(1).replace('-', '−'))
  await expect(cells.nth(4)).toHaveText(rearDb.toFixed(1).replace('-', '−'))
  await expect(cells.nth(5)).toHaveText(frontGainDb.toFixed(1).replace('-', '−'))
})

test('the picture follows the frequency, and stands still under reduced motion', async ({ page }) => {
  await page.emulateMedia({ reducedMotion: 'reduce' })
  await open(page)
  const picture = () =>
    figure(page)
      .locator('.plan canvas')
      .evaluate((canvas: HTMLCanvasElement) => canvas.toDataURL())
  await expect(figure(page).locator('.caption [role=status]')).toHaveText('')
  const before = await picture()
  await framesPass(page, 24)
  expect(await picture()).toBe(before)
  await waveEnd(page).focus()
  await page.keyboard.press('PageUp')
  await expect(sentence(page)).toHaveText(expectedSentence(0.5, 250))
  await expect.poll(picture).not.toBe(before)
  await page.keyboard.press('End')
  await expect(figure(page).locator('.caption')).toContainText('the picture is of a hard ball')
})

test('the link restores everything, feet too', async ({ page }) => {
  await open(page)
  await figure(page)
    .getByRole('slider', { name: /^width of the box/ })
    .fill('0.32')
  await waveEnd(page).focus()
  await page.keyboard.press('PageUp')
  await figure(page).getByRole('combobox', { name: 'levels against' }).selectOption('no-box')
  await figure(page).getByRole('combobox', { name: 'hear' }).selectOption('all')
  await hear(figure(page))
  await player(page).getByLabel('music').check()
  await page.getByRole('button', { name: 'Lengths in feet' }).click()
  await expect(page).toHaveURL(/box-and-wave\.units=ft/)
  await expect(sentence(page)).toHaveText(expectedSentence(0.32, 250, 'ft'))
  const address = new URL(page.url())

  const fresh = await anotherReader(page.context().browser())
  const other = await fresh.newPage()
  await open(other, address.search)
  await expect(sentence(other)).toHaveText(expectedSentence(0.32, 250, 'ft'))
  await expect(figure(other).getByRole('combobox', { name: 'levels against' })).toHaveValue('no-box')
  await expect(figure(other).getByRole('combobox', { name: 'hear' })).toHaveValue('all')
  await hear(figure(other))
  await expect(player(other).getByLabel('music')).toBeChecked()
  await expect(figure(other).locator('.notices')).toBeEmpty()
  await fresh?.close()
})

test('a bad link opens with what could be read and says what was dropped', async ({ page }) => {
  const heard = listen(page)
  await open(
    page,
    '?box-and-wave.widthM=9&box-and-wave.frequencyHz=250&guess-shadow.guessHz=loud&guess-shadow.shown=true',
  )
  await expect(sentence(page)).toHaveText(expectedSentence(0.5, 250))
  await expect(figure(page).locator('.notices')).toContainText('widthM “9” (outside 0.1 to 1 m)')
  await expect(guess(page)).toContainText('guessHz “loud”')
  expect(heard).toEqual([])
})

test('the guess is made by slider or by drag, and the verdict is computed', async ({ page }) => {
  await open(page)
  await guess(page).scrollIntoViewIfNeeded()
  const slider = guess(page).getByRole('slider')
  await slider.focus()
  for (let press = 0; press < 6; press++) await page.keyboard.press('ArrowRight')
  await expect(slider).toHaveAttribute('aria-valuetext', '200 Hz')
  await expect(guess(page).locator('.sentence')).not.toContainText('computed')
  await guess(page).getByRole('button', { name: 'show where it begins' }).click()
  await expect(guess(page).locator('.sentence')).toHaveText(guessShadowVerdict(200, shadowBegin(pattern, 0.5)))
  const mark = await guess(page).locator('.handle circle').boundingBox()
  if (!mark) throw new Error('no mark')
  await page.mouse.move(mark.x + mark.width / 2, mark.y + mark.height / 2)
  await page.mouse.down()
  await page.mouse.move(mark.x + 120, mark.y, { steps: 5 })
  await page.mouse.up()
  await expect(slider).not.toHaveAttribute('aria-valuetext', '200 Hz')
  await guess(page).getByRole('button', { name: 'start again' }).click()
  await expect(slider).toHaveAttribute('aria-valuetext', '100 Hz')
})

test('sound: nothing loads before a press; the band follows the frequency while it plays', async ({ page }) => {
  const heard = listen(page)
  const scripts: string[] = []
  page.on('request', (request) => request.resourceType() === 'script' && scripts.push(request.url()))
  await open(page)
  expect(scripts.filter((address) => /audition/.test(address))).toEqual([])
  await figure(page).getByRole('button', { name: 'the 125 Hz band behind' }).click()
  await expect(figure(page).getByRole('button', { name: 'the 125 Hz band behind' })).toHaveAttribute(
    'aria-pressed',
    'true',
  )
  await waveEnd(page).focus()
  await page.keyboard.press('PageUp')
  await expect(figure(page).getByRole('button', { name: 'the 250 Hz band behind' })).toHaveAttribute(
    'aria-pressed',
    'true',
  )
  await hear(figure(page), 'front')
  await figure(page).getByRole('combobox', { name: 'hear' }).selectOption('all')
  await player(page).getByRole('button', { name: '■ stop', exact: true }).click()
  await expect(player(page).getByRole('status')).toHaveText('')
  expect(heard).toEqual([])
})

test('without workers the picture is computed in the page, and the page says so', async ({ page }) => {
  await page.addInitScript(() => {
    Object.defineProperty(window, 'Worker', {
      value: class {
        constructor() {
          throw new DOMException('blocked', 'SecurityError')
        }
      },
    })
  })
  await open(page, '?box-and-wave.frequencyHz=250')
  await expect(sentence(page)).toHaveText(expectedSentence(0.5, 250))
  await expect(figure(page).locator('.notices')).toContainText('Background workers are off')
})

test('without JavaScript the lesson reads: both figures, picture, sentences and numbers', async ({ browser }) => {
  const context = await anotherReader(browser, { javaScriptEnabled: false })
  const page = await context.newPage()
  await page.goto(path)
  for (const heading of ['Guess', 'See', 'Hear', 'Why', 'Do'])
    await expect(page.getByRole('heading', { name: heading, exact: true })).toBeVisible()
  await expect(sentence(page)).toHaveText(expectedSentence(0.5, 125))
  await expect(figure(page).locator('.plan img')).toBeVisible()
  const widthPx = await figure(page)
    .locator('.plan img')
    .evaluate((image: HTMLImageElement) => image.naturalWidth)
  expect(widthPx).toBe(241)
  await figure(page).locator('details.change > summary').click()
  await expect(figure(page).locator('.spectrum svg path').first()).toBeVisible()
  await expect(page.getByText('note your guess on paper')).toBeVisible()
  for (const controls of await figure(page).locator('.controls').all()) await expect(controls).toBeHidden()
  await context.close()
})

test('with the answer shown the lesson has no accessibility violation, and with its tables open does not scroll sideways', async ({
  page,
}) => {
  const heard = listen(page)
  await open(page, '?guess-shadow.shown=true')
  await expectAccessible(page)
  await openEverything(page)
  await expectNoSidewaysScroll(page)
  expect(heard).toEqual([])
})
