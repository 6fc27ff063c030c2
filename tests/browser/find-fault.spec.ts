// What spoiled this test? Six recordings: chosen wrong, chosen right, by mouse and by keys, and what follows from each.
import { expect, type Page } from '@playwright/test'
import { expectAccessible, expectNoSidewaysScroll, listen, longWork, wakeFigures } from './page-checks.ts'
import { test } from './test.ts'

const path = '/embed/find-fault/'
const figure = (page: Page) => page.getByRole('region', { name: 'What spoiled this test?' })
const recording = (page: Page, letter: string) => figure(page).getByRole('radio', { name: new RegExp(`^${letter}`) })
const cause = (page: Page, words: string) => figure(page).getByRole('radio', { name: words })
const check = (page: Page) => figure(page).getByRole('button', { name: 'Check my choice' })
const verdict = (page: Page) => figure(page).locator('.causes .sentence')
const progress = (page: Page) => figure(page).locator('.progress')

const causes = {
  A: 'a microphone was changed after the match',
  B: 'one microphone stood farther away',
  C: 'a wall was near one microphone',
  D: 'somebody talked',
  E: 'a slow meter was read too soon',
  F: 'the volume was changed between the takes',
}

async function open(page: Page, query = '') {
  await page.goto(`${path}${query}`)
  await wakeFigures(page)
}

test('a wrong choice says how that would look, the right one what shows it, and six of six are found', async ({
  page,
}) => {
  const heard = listen(page)
  await open(page)
  await expect(figure(page).locator('.finding')).toHaveText(/^Recording A: 2 dB more behind in the bass/)
  await expect(progress(page)).toHaveText('None of 6 found yet.')

  // Too early it says what is missing.
  await expect(check(page)).toHaveAttribute('aria-disabled', 'true')
  await check(page).press('Enter')
  await expect(figure(page).getByText('Choose one of the six.')).toBeVisible()
  await expect(verdict(page)).toHaveCount(0)

  await cause(page, causes.C).check()
  await check(page).click()
  await expect(verdict(page)).toHaveText(/^Not that one\. A wall makes dips/)
  await expect(progress(page)).toHaveText('None of 6 found yet.')
  // Another choice takes the verdict on the last one away.
  await cause(page, causes.A).check()
  await expect(verdict(page)).toHaveCount(0)
  await check(page).click()
  await expect(verdict(page)).toHaveText(/^Right: a microphone was changed.* at 25 Hz.* at 16 kHz/)
  await expect(figure(page)).toContainText('Can it be told afterwards?')
  await expect(progress(page)).toHaveText('1 of 6 found.')
  await expectAccessible(page)

  for (const letter of ['B', 'C', 'D', 'E', 'F'] as const) {
    await figure(page)
      .getByRole('button', { name: `Next: recording ${letter}` })
      .click()
    await expect(figure(page).locator('.finding')).toHaveText(new RegExp(`^Recording ${letter}: `))
    await expect(verdict(page)).toHaveCount(0)
    await cause(page, causes[letter]).check()
    await check(page).click()
    await expect(verdict(page)).toHaveText(/^Right: /)
  }
  await expect(progress(page)).toHaveText('All 6 found.')
  await expect(figure(page).getByRole('button', { name: /^Next/ })).toHaveCount(0)
  // What was found stays found.
  await recording(page, 'A').check()
  await expect(verdict(page)).toHaveText(/^Right: a microphone was changed/)
  await expect(cause(page, causes.C)).toBeDisabled()
  expect(heard).toEqual([])
})

test('what the test itself says stands beside the recording: of the wrong distance alone it says yes', async ({
  page,
}) => {
  await open(page, '?fault.v=1&fault.take=unequal-distances')
  await expect(recording(page, 'B')).toBeChecked()
  await expect(figure(page).locator('.says')).toContainText('“Yes: there really is more bass behind')
  await recording(page, 'F').check()
  await expect(figure(page).locator('.says')).toContainText('“No: there is hardly any difference in the bass.')
  await expect(page).toHaveURL(/fault\.take=volume-changed/)
})

test('by keys alone', async ({ page }) => {
  await open(page)
  await recording(page, 'A').focus()
  await page.keyboard.press('ArrowRight')
  await expect(recording(page, 'B')).toBeChecked()
  await expect(figure(page).locator('.finding')).toHaveText(/^Recording B: /)
  await cause(page, 'somebody talked').focus()
  await page.keyboard.press('Space')
  for (let step = 0; step < 4; step++) await page.keyboard.press('ArrowDown')
  await expect(cause(page, causes.B)).toBeChecked()
  await page.keyboard.press('Tab')
  await expect(check(page)).toBeFocused()
  await page.keyboard.press('Enter')
  await expect(verdict(page)).toHaveText(/^Right: one microphone stood farther away/)
})

test('the recording is made and heard when it is asked for, and is silent when another is chosen', async ({ page }) => {
  test.setTimeout(200_000)
  await open(page)
  await figure(page).getByRole('button', { name: 'Play behind' }).click()
  await expect(figure(page).getByRole('button', { name: 'Stop' })).toHaveAttribute('aria-pressed', 'true', longWork)
  await recording(page, 'D').check()
  await expect(figure(page).locator('[aria-pressed=true]')).toHaveCount(0)
})

test('in other air the worker measures anew', async ({ page }) => {
  test.setTimeout(200_000)
  const cells = figure(page).getByRole('row', { name: /^125 / }).getByRole('cell')
  await open(page, '?fault.v=1&fault.take=wall-behind-microphone')
  await figure(page).locator('summary', { hasText: 'table' }).click()
  await expect(figure(page).locator('.finding')).toHaveText(/^Recording C: /)
  const usual = (await cells.nth(3).textContent()) ?? ''
  expect(usual).toMatch(/\d/)
  await open(page, '?air=32,80&fault.v=1&fault.take=wall-behind-microphone')
  await figure(page).locator('summary', { hasText: 'table' }).click()
  // Sound is faster in warm air, so the dip lies higher: the band below it is louder than in the usual air.
  await expect(cells.nth(3)).not.toHaveText(usual, { timeout: 150_000 })
  await expect(figure(page).locator('.finding')).toHaveText(/^Recording C: /)
})

test('fits every width, in the lesson as well, and moves for nobody who wants it still', async ({ page }) => {
  await page.emulateMedia({ reducedMotion: 'reduce' })
  await open(page)
  await cause(page, causes.A).check()
  await check(page).click()
  await expect(verdict(page)).toBeVisible()
  await expectNoSidewaysScroll(page, [320, 390, 768, 1280])
  await expect
    .poll(() => page.evaluate(() => document.getAnimations().filter((each) => each.playState === 'running').length))
    .toBe(0)
  await page.goto('/lessons/prove-it-with-two-microphones/')
  await wakeFigures(page)
  await expectNoSidewaysScroll(page, [320, 390, 768, 1280])
})

test('the lesson says which it is, and its guess is held against what came out', async ({ page }) => {
  await page.goto('/lessons/prove-it-with-two-microphones/')
  await expect(page.locator('.place')).toContainText(/lesson 9 of \d+/)
  await wakeFigures(page)
  const guess = page.locator('section.guess')
  for (const slider of await guess.locator('input[type=range]').all()) await slider.fill('12')
  await guess.getByRole('button', { name: 'show what came out' }).click()
  await expect(guess.locator('.sentence')).toContainText('The worst in the bass is off by 6 dB')
  await expect(guess.locator('.sentence')).toContainText('the worst in the treble by 17 dB')
})

test.describe('without JavaScript', () => {
  test.use({ javaScriptEnabled: false })
  test('the first recording is there with its lines, what the test says, and the table of all six', async ({
    page,
  }) => {
    await page.goto('/lessons/prove-it-with-two-microphones/')
    await expect(figure(page).locator('.finding')).toHaveText(/^Recording A: /)
    await expect(figure(page).locator('.chart path').first()).toBeAttached()
    await expect(figure(page).locator('.says')).toContainText('hardly any difference')
    await expect(figure(page).locator('p.without-script')).toBeVisible()
    await expect(page.getByRole('region', { name: 'What each slip made of the answer' }).getByRole('row')).toHaveCount(
      8,
    )
  })
})
