import { expect, type Page } from '@playwright/test'
import { columnAnswer } from '../../src/engine/questions/column/column.ts'
import { defaultState } from '../../src/state/share-link.ts'
import { type ColumnState, columnLink, columnOf } from '../../src/widgets/column/column-link.ts'
import { columnSentence, spacingSentence } from '../../src/widgets/column/describe-column.ts'
import {
  expectAccessible,
  expectNoSidewaysScroll,
  framesPass,
  hear,
  listen,
  player,
  wakeFigures,
} from './page-checks.ts'
import { withMotion } from './readers.ts'
import { watchWorkers, workersRest } from './slow-worker.ts'
import { anotherReader, test } from './test.ts'

test.use(withMotion)

const path = '/lessons/tall-and-thin/'
const figure = (page: Page) => page.getByRole('region', { name: 'A column of drivers' })
const guess = (page: Page) => page.getByRole('region', { name: 'Guess what a column sends' })
const slider = (page: Page, name: string | RegExp) => figure(page).getByRole('slider', { name })
const sentence = (page: Page) => figure(page).locator('.sentence')

/** The sentence that the module gives for a state. */
function expected(change: Partial<ColumnState> = {}) {
  const state = { ...defaultState(columnLink), ...change }
  return columnSentence(columnAnswer({ column: columnOf(state), frequencyHz: state.frequencyHz }), state.frequencyHz)
}

async function open(page: Page, query = '') {
  await page.goto(`${path}${query}`)
  await figure(page).scrollIntoViewIfNeeded()
  await expect(figure(page).locator('canvas')).toHaveCount(2)
}

/** Sets a range input as a reader's hand does. */
const set = (page: Page, name: string | RegExp, value: number) => slider(page, name).fill(String(value))

test('the first state is the one that was computed at build', async ({ page }) => {
  await open(page)
  await expect(sentence(page)).toHaveText(expected())
})

test('frequency, drivers and spacing change sentence, length and spacing to the module’s values', async ({ page }) => {
  await open(page)
  await slider(page, /^frequency/).focus()
  for (let press = 0; press < 6; press++) await page.keyboard.press('ArrowRight')
  await expect(sentence(page)).toHaveText(expected({ frequencyHz: 4000 }))
  await set(page, /^drivers/, 12)
  await set(page, /^spacing/, 0.2)
  await expect(figure(page).locator('.length output')).toHaveText('2.4 m')
  const change = { frequencyHz: 4000, count: 12, spacingM: 0.2 }
  await expect(sentence(page)).toHaveText(expected(change))
  const answer = columnAnswer({ column: columnOf({ ...defaultState(columnLink), ...change }), frequencyHz: 4000 })
  await expect(figure(page).locator('.spacing')).toContainText(spacingSentence(answer, 0.2, 'm'))
  await expect(figure(page).locator('.spacing')).toContainText('further beam')
})

test('leaning the column moves the beam to the seated listener, and the table has the far-field levels', async ({
  page,
}) => {
  await open(page, '?column.v=1&column.frequencyHz=2000')
  const side = figure(page).getByRole('group', { name: /^Side view/ })
  await expect(side).toHaveAttribute('aria-label', /seated 9 dB down, standing as on the axis/)
  await set(page, /^leaning forward/, 9)
  await expect(side).toHaveAttribute('aria-label', /seated as on the axis/)
  await figure(page).locator('summary', { hasText: 'table' }).click()
  const { verticalDb } = columnAnswer({ column: columnOf(defaultState(columnLink)), frequencyHz: 2000 })
  const row = figure(page).getByRole('row', { name: /^30 / })
  await expect(row.getByRole('cell').nth(1)).toHaveText((verticalDb[84] ?? Number.NaN).toFixed(1).replace('-', '−'))
})

test('the link restores everything, feet included, and a bad one says what was dropped', async ({ page, browser }) => {
  await open(page)
  await set(page, /^drivers/, 16)
  await set(page, /^height of middle/, 2.5)
  await figure(page).getByLabel('views show').selectOption('waves')
  await figure(page).getByRole('radio', { name: 'seated in front' }).check()
  await hear(figure(page))
  await player(page).getByLabel('matched').check()
  await page.getByRole('button', { name: 'Lengths in feet' }).click()
  await expect(page).toHaveURL(/column\.units=ft/)
  const said = await sentence(page).textContent()
  const other = await (await anotherReader(browser)).newPage()
  await open(other, new URL(page.url()).search)
  await expect(sentence(other)).toHaveText(said ?? '')
  await expect(slider(other, /^drivers/)).toHaveValue('16')
  await expect(slider(other, /^height of middle/)).toHaveValue('2.5')
  await expect(figure(other).getByLabel('views show')).toHaveValue('waves')
  await expect(figure(other).getByRole('radio', { name: 'seated in front' })).toBeChecked()
  await expect(figure(other).locator('.ruler text').first()).toContainText('ft')
  await other.close()

  const complaints = listen(page)
  await open(page, '?column.v=1&column.count=900&column.frequencyHz=1001&column.spacingM=0.2')
  await expect(sentence(page)).toHaveText(expected({ spacingM: 0.2 }))
  await expect(figure(page).locator('.notices p')).toContainText('count “900” (outside 2 to 24 drivers)')
  expect(complaints).toEqual([])
})

test('the guess is told, kept in the link, and can be started again', async ({ page }) => {
  await page.goto(path)
  await wakeFigures(page)
  const behind = guess(page).getByRole('slider', { name: /^behind the column/ })
  await expect(guess(page).locator('.sentence')).toContainText('Move both marks')
  await behind.fill('-20')
  await guess(page)
    .getByRole('slider', { name: /^30° above/ })
    .fill('-12')
  await expect(page).toHaveURL(/guess-column\.bassBehindDb=-20/)
  await guess(page).getByRole('button', { name: 'show the computed levels' }).click()
  await expect(guess(page).locator('.sentence')).toContainText('20 dB too low')
  await expect(guess(page).locator('.sentence')).toContainText('does not keep its bass off the stage')
  await expect(page).toHaveURL(/guess-column\.shown=true/)
  await page.reload()
  await expect(guess(page).locator('.sentence')).toContainText('20 dB too low')
  await guess(page).getByRole('button', { name: 'start again' }).click()
  await expect(guess(page).locator('.sentence')).toContainText('Move both marks')
})

test('sound starts only on a press, plays, and follows the listener', async ({ page }) => {
  const complaints = listen(page)
  const loaded: string[] = []
  page.on('request', (request) => loaded.push(request.url()))
  await open(page)
  expect(loaded.filter((url) => /audition/i.test(url))).toEqual([])
  await figure(page)
    .getByRole('button', { name: /standing behind/ })
    .click()
  await expect(figure(page).getByRole('button', { name: /standing behind/ })).toHaveAttribute('aria-pressed', 'true')
  await figure(page).getByRole('radio', { name: '30° above the axis' }).check()
  await expect(figure(page).getByRole('button', { name: /30° above the axis/ })).toHaveAttribute('aria-pressed', 'true')
  await expect(figure(page).locator('.spectrum .name')).toContainText('30° above the axis')
  await hear(figure(page), 'front')
  await figure(page).getByRole('button', { name: /stop/ }).click()
  await expect(player(page).getByRole('status')).toHaveText('')
  expect(complaints).toEqual([])
})

test('under reduced motion the waves stand still', async ({ page }) => {
  await page.emulateMedia({ reducedMotion: 'reduce' })
  await watchWorkers(page)
  await open(page, '?column.v=1&column.picture=waves')
  const pixels = () =>
    figure(page)
      .locator('canvas')
      .first()
      .evaluate((canvas: HTMLCanvasElement) => canvas.toDataURL())
  const run = figure(page).getByRole('button', { name: 'let the waves run' })
  await expect(run).toBeVisible()
  await workersRest(page)
  await framesPass(page)
  const before = await pixels()
  await framesPass(page, 24)
  expect(await pixels()).toBe(before)
  await run.click()
  await expect.poll(pixels).not.toBe(before)
})

test('without workers the page computes by itself and says so', async ({ page }) => {
  await page.addInitScript(() => {
    Object.defineProperty(window, 'Worker', {
      value: class {
        constructor() {
          throw new DOMException('blocked', 'SecurityError')
        }
      },
    })
  })
  await open(page, '?column.v=1&column.frequencyHz=500')
  await expect(sentence(page)).toHaveText(expected({ frequencyHz: 500 }))
  await expect(figure(page).locator('.notices')).toContainText('Background workers are off')
})

test('the lesson with its pictures has no accessibility violation, does not scroll sideways and says nothing on the console', async ({
  page,
}) => {
  const complaints = listen(page)
  await open(page)
  await expectAccessible(page)
  await expectNoSidewaysScroll(page)
  expect(complaints).toEqual([])
})

test.describe('without JavaScript', () => {
  test.use({ javaScriptEnabled: false })
  test('the words, both pictures, the lines and the sentence of the first state are there', async ({ page }) => {
    await page.goto(path)
    await expect(sentence(page)).toHaveText(expected())
    for (const still of await figure(page).locator('img').all()) {
      await still.scrollIntoViewIfNeeded()
      expect(await still.evaluate((image: HTMLImageElement) => image.decode().then(() => image.naturalWidth))).toBe(201)
    }
    await expect(figure(page).locator('img')).toHaveCount(2)
    await expect(figure(page).locator('.directions path').first()).toBeAttached()
    await expect(page.getByRole('button').and(page.locator(':not(.term)'))).toHaveCount(0)
    await page.getByRole('heading', { name: 'What does the sum say?' }).click()
    await expect(page.locator('.katex-display').first()).toBeVisible()
  })
})
