import { expect, type Page } from '@playwright/test'
import { hornAnswer } from '../../src/engine/questions/horn/horn.ts'
import { demoHorn } from '../../src/engine/questions/horn/horn-facts.ts'
import { guessHornVerdict } from '../../src/widgets/horn/describe-guess-horn.ts'
import { beamSentence, beamwidthText, holdSentence } from '../../src/widgets/horn/describe-horn.ts'
import { expectAccessible, expectNoSidewaysScroll, hear, listen, player, wakeFigures } from './page-checks.ts'
import { anotherReader, test } from './test.ts'

const path = '/lessons/what-a-horn-holds/'
const horn = (page: Page) => page.getByRole('region', { name: 'What a horn holds' })
const guess = (page: Page) => page.getByRole('region', { name: 'Guess where the horn lets go' })
const slider = (page: Page, name: string | RegExp) => horn(page).getByRole('slider', { name })
const handle = (page: Page) => slider(page, 'Frequency of the fan')

/** What the module says of a horn, in the words of the figure. */
function expected(mouthM: number, coverageDeg: number, frequencyHz: number, units: 'm' | 'ft' = 'm') {
  const answer = hornAnswer({ mouthM, coverageDeg, frequencyHz })
  return {
    answer,
    holds: holdSentence(answer, mouthM, coverageDeg, units),
    beam: beamSentence(answer, coverageDeg, frequencyHz),
  }
}

async function expectHorn(page: Page, mouthM: number, coverageDeg: number, frequencyHz: number, units?: 'm' | 'ft') {
  const { holds, beam } = expected(mouthM, coverageDeg, frequencyHz, units)
  await expect(horn(page).locator('.sentence')).toHaveText(holds)
  await expect(horn(page).locator('.beam')).toHaveText(beam)
}

/** Opens the lesson with both figures alive. */
async function open(page: Page, query = '') {
  await page.goto(`${path}${query}`)
  await wakeFigures(page)
}

test('the first state is the one that was computed at build', async ({ page }) => {
  await open(page)
  await expectHorn(page, 0.26, 90, 500)
})

test('arrow keys move the frequency by a third octave, and the numbers are the module’s', async ({ page }) => {
  await open(page)
  await handle(page).focus()
  for (let press = 0; press < 6; press++) await page.keyboard.press('ArrowRight')
  await expect(handle(page)).toHaveAttribute('aria-valuenow', '2000')
  await expectHorn(page, 0.26, 90, 2000)
  const { answer } = expected(0.26, 90, 2000)
  await expect(handle(page)).toHaveAttribute(
    'aria-valuetext',
    `2 kHz, beamwidth ${Math.round(answer.beamwidthDeg ?? 180)} degrees`,
  )
  await page.keyboard.press('Home')
  await expectHorn(page, 0.26, 90, 31.5)
})

test('mouth and angle move the sentence, the fan and the table to the module’s values', async ({ page }) => {
  await open(page)
  await horn(page).getByRole('button', { name: 'door' }).click()
  await slider(page, /angle/).focus()
  for (let press = 0; press < 6; press++) await page.keyboard.press('ArrowLeft')
  await expectHorn(page, 0.9, 60, 500)
  await expect(horn(page).locator('.fan .name')).toContainText(
    beamwidthText(expected(0.9, 60, 500).answer.beamwidthDeg),
  )
  await horn(page).locator('summary', { hasText: 'table' }).click()
  const { answer } = expected(0.9, 60, 500)
  const row = horn(page).getByRole('row', { name: /^1000 / })
  await expect(row.getByRole('cell').nth(1)).toHaveText((answer.bandBeamwidthsDeg[15] ?? Number.NaN).toFixed(0))
  await expect(row.getByRole('cell').nth(2)).toHaveText(
    (answer.besideDb[15] ?? Number.NaN).toFixed(1).replace('-', '−'),
  )
})

test('the orange line is dragged with the mouse', async ({ page }) => {
  await open(page)
  await handle(page).scrollIntoViewIfNeeded()
  const mark = await handle(page).locator('.mark').boundingBox()
  const grid = await horn(page).locator('.chart svg').boundingBox()
  if (!mark || !grid) throw new Error('the chart is not on the page')
  const [x, y] = [mark.x + mark.width / 2, mark.y + mark.height / 2]
  await page.mouse.move(x, y)
  await page.mouse.down()
  await page.mouse.move(x + 40, y + 4, { steps: 4 })
  await page.mouse.move(x + 0.3 * grid.width, y, { steps: 4 })
  await page.mouse.up()
  const shownHz = async () => Number(await handle(page).getAttribute('aria-valuenow'))
  await expect.poll(shownHz).toBeGreaterThan(1600)
  const frequencyHz = await shownHz()
  await expectHorn(page, 0.26, 90, frequencyHz)
})

test('the link restores the horn, the sound choices and feet', async ({ page }) => {
  await open(page)
  await horn(page).getByRole('button', { name: 'room' }).click()
  await hear(horn(page))
  await player(page).getByLabel('music').check()
  await player(page).getByLabel('matched').check()
  await page.getByRole('button', { name: 'Lengths in feet' }).click()
  await expect(page).toHaveURL(/horn\.units=ft/)
  await expect(page).toHaveURL(/horn\.mouthM=5/)
  const address = new URL(page.url())

  const fresh = await anotherReader(page.context().browser())
  const other = await fresh.newPage()
  await open(other, address.search)
  await expectHorn(other, 5, 90, 500, 'ft')
  await expect(horn(other).getByRole('button', { name: 'room' })).toHaveAttribute('aria-pressed', 'true')
  await hear(horn(other))
  await expect(player(other).getByLabel('music')).toBeChecked()
  await expect(player(other).getByLabel('matched')).toBeChecked()
  await expect(horn(other).locator('.notices')).toBeEmpty()
  await fresh?.close()
})

test('a bad link opens with what could be read and says what was dropped', async ({ page }) => {
  await open(page, '?horn.mouthM=900&horn.coverageDeg=60&guess-horn.guessHz=3')
  await expectHorn(page, 0.26, 60, 500)
  await expect(horn(page).locator('.notices')).toContainText('mouthM “900” (outside 0.05 to 6 m)')
  await expect(guess(page).locator('.note')).toContainText('guessHz “3”')
})

test('the guess is judged against the module', async ({ page }) => {
  await open(page)
  const { letsGoHz } = hornAnswer({
    mouthM: demoHorn.widthM,
    coverageDeg: demoHorn.horizontalDeg,
    frequencyHz: 1000,
  })
  const answer = guess(page).locator('.sentence')
  await expect(answer).not.toContainText('kHz')
  await guess(page).getByRole('slider').focus()
  for (let press = 0; press < 3; press++) await page.keyboard.press('ArrowRight')
  await guess(page).getByRole('button', { name: 'show where it lets go' }).click()
  await expect(answer).toHaveText(guessHornVerdict(250, letsGoHz, demoHorn.horizontalDeg))
  await guess(page).getByRole('button', { name: 'start again' }).click()
  await expect(answer).not.toContainText('computed')
})

test('90° off and in front can be heard, and nothing is loaded for it before a press', async ({ page }) => {
  const scripts: string[] = []
  page.on('request', (request) => request.resourceType() === 'script' && scripts.push(request.url()))
  const heard = listen(page)
  await open(page)
  expect(scripts.filter((address) => /audition/.test(address))).toEqual([])
  const beside = horn(page).getByRole('button', { name: '90° off' })
  const front = horn(page).getByRole('button', { name: 'in front' })
  await beside.click()
  await expect(beside).toHaveAttribute('aria-pressed', 'true')
  await horn(page).getByRole('button', { name: 'hand' }).click()
  await front.click()
  await expect(front).toHaveAttribute('aria-pressed', 'true')
  await front.click()
  await expect(front).toHaveAttribute('aria-pressed', 'false')
  expect(heard).toEqual([])
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
  await open(page, '?horn.mouthM=0.5')
  await expectHorn(page, 0.5, 90, 500)
  await expect(horn(page).locator('.notices')).toContainText('Background workers are off')
})

test('at another frequency the lesson has no accessibility violation, does not scroll sideways and says nothing on the console', async ({
  page,
}) => {
  const heard = listen(page)
  await open(page, '?horn.frequencyHz=4000')
  await expectHorn(page, 0.26, 90, 4000)
  await expectAccessible(page)
  await expectNoSidewaysScroll(page)
  expect(heard).toEqual([])
})

test.describe('without JavaScript', () => {
  test.use({ javaScriptEnabled: false })
  test('the words, both drawings and the sentences of the first state are there', async ({ page }) => {
    await page.goto(path)
    await expect(page.locator('.prose > h2')).toHaveText(['Guess', 'See', 'Hear', 'Why', 'Do'])
    await expectHorn(page, 0.26, 90, 500)
    await expect(horn(page).locator('.chart path').first()).toBeAttached()
    await expect(horn(page).locator('.fan path.front')).toBeAttached()
    await expect(page.getByRole('button').and(page.locator(':not(.term)'))).toHaveCount(0)
    await expect(page.locator('.katex-display')).toHaveCount(5)
    const cells = page.getByRole('region', { name: 'Level 90° off a small and a large horn' }).locator('tbody td')
    await expect(cells).toHaveCount(9)
    for (const index of [1, 2, 4, 5, 7, 8]) await expect(cells.nth(index)).toHaveText(/^\d+\sdB$/)
  })
})
