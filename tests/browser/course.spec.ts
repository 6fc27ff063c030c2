// The course as a new reader meets it: a guess first, the answer after it, one lesson after the other, words explained in place.
import { expect, type Page } from '@playwright/test'
import { builtPages } from './built-pages.ts'
import { expectAccessible, wakeFigures } from './page-checks.ts'
import { nothing } from './readers.ts'
import { test } from './test.ts'

test.use({ kept: nothing })

/** Pages of the course that are no lessons. */
const others = ['afterwards', 'final-check', 'sheet', 'card'].map((name) => `/lessons/${name}/`)
const lessons = builtPages.filter((path) => /^\/lessons\/[^/]+\/$/.test(path) && !others.includes(path))
/** Lessons that ask first. */
const asking = lessons.filter((path) => path !== '/lessons/more-boxes/')
const answer = (page: Page) => page.getByRole('region', { name: 'The short answer' })
const skip = (page: Page) => page.getByRole('link', { name: 'read on without guessing' })
const show = (page: Page) => page.locator('section.guess').getByRole('button', { name: /^show / })
const missing = (page: Page) => page.locator('section.guess .missing')

async function wakeGuess(page: Page) {
  await page.locator('section.guess').scrollIntoViewIfNeeded()
  await expect(page.locator('astro-island:has(section.guess)')).not.toHaveAttribute('ssr')
}

test('"next" leads from the first lesson through all of them to the end, and says what each asks', async ({ page }) => {
  await page.goto('/lessons/')
  await expect(page.locator('main')).toContainText(/\d+ lessons, about \d+ hours? and \d+ minutes? in all/)
  await page.locator('.lessons a').first().click()
  const passed: string[] = []
  for (let step = 0; step < lessons.length + 1; step++) {
    const path = new URL(page.url()).pathname
    if (path === '/lessons/afterwards/') break
    passed.push(path)
    await expect(page.locator('.place')).toContainText(new RegExp(`lesson ${passed.length} of ${asking.length} · `))
    const neighbours = page.getByRole('navigation', { name: 'The lessons before and after' }).getByRole('link')
    for (const link of await neighbours.all()) await expect(link).toContainText(/\?/)
    const href = await page.locator('.go-on .primary').getAttribute('href')
    if (!href) throw new Error(`${path} leads nowhere`)
    await page.goto(href)
  }
  expect(passed.sort()).toEqual([...asking].sort())
  await expect(page.getByRole('heading', { name: 'What to keep' })).toBeVisible()
  for (const path of [...others.slice(1), '/answers/', '/own-box/', '/safety/', '/evidence/'])
    await expect(page.locator(`main a[href="${path}"]`)).toBeVisible()
})

test('an extra is offered after its lesson, says that it is not counted, and leads on', async ({ page }) => {
  await page.goto('/lessons/bass-that-takes-sides/')
  await skip(page).click()
  await page
    .getByRole('navigation', { name: 'Go on from here' })
    .getByRole('link', { name: 'Extra: More boxes' })
    .click()
  await expect(page.locator('.place')).toContainText('an extra after lesson 8, not counted')
  await expect(page.locator('.go-on .primary')).toBeVisible()
  await expect(page.locator('.lede')).toBeVisible()
})

for (const path of asking)
  test(`${path}: nothing gives the answer away before the guess; who reads on without guessing has all of it, also the next time`, async ({
    page,
  }) => {
    await page.goto(path)
    await expect(page.locator('section.guess')).toBeVisible()
    await expect(page.locator('.lede')).toBeHidden()
    await expect(page.locator('#see')).toBeHidden()
    await expect(page.locator('.go-on')).toBeHidden()
    await skip(page).press('Enter')
    await expect(answer(page)).toBeInViewport()
    await expect(answer(page)).toBeFocused()
    await expect(page.locator('#see')).toBeVisible()
    await expect(skip(page)).toBeHidden()
    await page.goto(path)
    await expect(answer(page)).toBeVisible()
  })

for (const path of asking)
  test(`${path}: the answer cannot be shown before a guess is made, and says so by keyboard and to a screen reader`, async ({
    page,
  }) => {
    await page.goto(path)
    await wakeGuess(page)
    await expect(show(page)).toHaveAttribute('aria-disabled', 'true')
    await expect(show(page)).toHaveAccessibleDescription(/^First /)
    await show(page).press('Enter')
    await expect(missing(page)).toContainText('Not yet. First')
    await expect(page.locator('.lede')).toBeHidden()
    await expect(page).not.toHaveURL(/shown/)
    await expectAccessible(page, 'section.guess')
    const parts = page.locator('section.guess input[type=range], section.guess [role=slider]')
    const radios = page.locator('section.guess input[type=radio]')
    if (await radios.count()) await radios.first().check()
    for (const part of await parts.all()) {
      await part.press('ArrowRight')
      await part.press('ArrowLeft')
    }
    await expect(show(page)).not.toHaveAttribute('aria-disabled')
    await show(page).press('Enter')
    await expect(page).toHaveURL(/shown=true/)
    await expect(answer(page)).toBeVisible()
    await expect(page.locator('.go-on')).toBeVisible()
  })

test('of two guesses one is not enough', async ({ page }) => {
  await page.goto('/lessons/tall-and-thin/')
  await wakeGuess(page)
  await page.locator('section.guess input[type=range]').first().press('ArrowLeft')
  await expect(missing(page)).toContainText('1 of 2 is set')
  await expect(show(page)).toHaveAttribute('aria-disabled', 'true')
  await page.locator('section.guess input[type=range]').last().press('ArrowLeft')
  await expect(missing(page)).toBeEmpty()
  await page.getByRole('button', { name: 'start again' }).click()
  await expect(show(page)).toHaveAttribute('aria-disabled', 'true')
})

test('a link that a figure sends opens at that figure, set as it was, without the guess of whoever sent it', async ({
  page,
  context,
}) => {
  await context.grantPermissions(['clipboard-read', 'clipboard-write'])
  await page.goto(
    '/lessons/walk-round-the-back/?guess.v=1&guess.guessDb=0,0,0,0,0,0,-6,-12&guess.shown=true&walk.v=1&walk.angleDeg=90',
  )
  await wakeFigures(page)
  const figure = page.getByRole('region', { name: 'Walk round a loudspeaker' })
  await figure.locator('summary', { hasText: /^send$/ }).click()
  await figure.getByRole('button', { name: 'copy the link' }).click()
  await expect(figure.getByText('Link copied')).toBeVisible()
  const link = await page.evaluate(() => navigator.clipboard.readText())
  expect(link).toContain('#figure-walk')
  expect(link).not.toContain('guess')
  const other = await context.newPage()
  await other.goto(link)
  await expect(other.locator('#figure-walk')).toBeInViewport()
  await expect(other.locator('#figure-walk .sentence')).toContainText('beside')
  await expect
    .poll(() => other.locator('#figure-walk').evaluate((at) => Math.abs(at.getBoundingClientRect().top)))
    .toBeLessThan(200)
  await expect(other.getByRole('button', { name: 'show where it lies' }).or(show(other))).toHaveAttribute(
    'aria-disabled',
    'true',
  )
})

test('a link to a figure in a fold opens the fold', async ({ page }) => {
  for (const address of ['?match.v=1&match.frequencyHz=63', '#figure-match']) {
    await page.goto('about:blank')
    await page.goto(`/lessons/what-your-ear-makes-of-it/${address}`)
    await expect(page.locator('#figure-match')).toBeVisible()
  }
})

test('the contents open in place, lead to each part, and open what is folded there', async ({ page }) => {
  await page.goto('/lessons/bass-that-takes-sides/')
  await page.locator('.contents summary').click()
  const entry = page.locator('.contents a', { hasText: 'What does the sum say?' })
  await entry.press('Enter')
  const fold = page.locator('details.deeper', { hasText: 'What does the sum say?' })
  await expect(fold).toHaveAttribute('open', '')
  await expect(fold).toBeInViewport()
  for (const link of await page.locator('.contents a').all()) {
    const id = (await link.getAttribute('href'))?.slice(1) ?? ''
    await expect(page.locator(`[id="${id}"]`)).toHaveCount(1)
  }
})

test('every term of every page has its definition there', async ({ page }) => {
  await page.goto('/safety/')
  for (const path of builtPages) {
    const html = await (await page.request.get(path)).text()
    const orphans = await page.evaluate((words) => {
      const built = new DOMParser().parseFromString(words, 'text/html')
      return [...built.querySelectorAll('[popovertarget]')]
        .map((each) => each.getAttribute('popovertarget') ?? '')
        .filter((id) => !built.getElementById(id)?.textContent?.trim())
    }, html)
    expect(orphans, path).toEqual([])
  }
})

for (const javaScriptEnabled of [true, false])
  test.describe(javaScriptEnabled ? 'with JavaScript' : 'without', () => {
    test.use({ javaScriptEnabled })
    test('a term says what it means at the place, by keyboard, and leads to the glossary', async ({ page }) => {
      await page.goto('/lessons/walk-round-the-back/')
      const term = page.locator('button.term', { hasText: 'pink noise' }).first()
      const meaning = page.locator('#term-pink-noise')
      await expect(meaning).toBeHidden()
      await term.focus()
      await page.keyboard.press('Enter')
      await expect(meaning).toBeVisible()
      await expect(meaning).toBeInViewport()
      await page.keyboard.press('Escape')
      await expect(meaning).toBeHidden()
      await expect(term).toBeFocused()
      await page.keyboard.press('Space')
      await page.keyboard.press('Tab')
      await meaning.getByRole('link', { name: 'In the glossary' }).press('Enter')
      await expect(page).toHaveURL(/\/glossary\/#pink-noise$/)
      await expect(page.locator('#pink-noise')).toBeInViewport()
    })
  })

test('at 390 px a definition stays on the screen, opened by touch or by mouse', async ({ page }) => {
  await page.setViewportSize({ width: 390, height: 844 })
  await page.goto('/lessons/walk-round-the-back/')
  for (const term of (await page.locator('button.term').all()).slice(0, 3)) {
    await term.click()
    const box = await page.locator('.definition:popover-open').boundingBox()
    expect(box?.x).toBeGreaterThanOrEqual(0)
    expect((box?.x ?? 0) + (box?.width ?? 999)).toBeLessThanOrEqual(390)
    await page.keyboard.press('Escape')
  }
})

test('on paper everything is there, folds open, words without their mark', async ({ page }) => {
  await page.goto('/lessons/walk-round-the-back/')
  await page.emulateMedia({ media: 'print' })
  await expect(page.locator('.lede')).toBeVisible()
  await expect(page.locator('.deeper > p').first()).toBeVisible()
  expect(
    await page
      .locator('button.term')
      .first()
      .evaluate((term) => getComputedStyle(term).textDecorationLine),
  ).toBe('none')
})

test('on a wide screen the steps stand beside their figure, on a phone before it', async ({ page }) => {
  await page.goto('/lessons/more-boxes/')
  const steps = page.locator('.try-this .steps')
  const figure = page.locator('#figure-steer')
  const boxes = async () => ({ steps: await steps.boundingBox(), figure: await figure.boundingBox() })
  await page.setViewportSize({ width: 1440, height: 900 })
  const wide = await boxes()
  expect((wide.steps?.x ?? 0) + (wide.steps?.width ?? 0)).toBeLessThanOrEqual(wide.figure?.x ?? 0)
  await page.setViewportSize({ width: 390, height: 844 })
  const narrow = await boxes()
  expect((narrow.steps?.y ?? 0) + (narrow.steps?.height ?? 0)).toBeLessThanOrEqual(narrow.figure?.y ?? 0)
})

test('a step of "More boxes" sets the figure and goes there', async ({ page }) => {
  await page.goto('/lessons/more-boxes/')
  await page.getByRole('link', { name: 'A line of four.' }).click()
  await expect(page.locator('#figure-steer')).toBeInViewport()
  await wakeFigures(page)
  await expect(page.locator('#figure-steer .notices p')).toHaveCount(0)
  await expect(page.locator('#figure-steer')).toContainText(/4 boxes|line of 4|four/i)
})

test.describe('without JavaScript', () => {
  test.use({ javaScriptEnabled: false })
  test('everything reads in order: question, guess, answer, the rest', async ({ page }) => {
    for (const path of asking) {
      await page.goto(path)
      await expect(answer(page), path).toBeVisible()
      await expect(page.locator('.go-on'), path).toBeVisible()
      await expect(skip(page), path).toBeHidden()
      const tops = await page
        .locator('#guess, section.guess, .answer, #see')
        .evaluateAll((all) => all.map((each) => each.getBoundingClientRect().top))
      expect(tops, path).toEqual([...tops].sort((a, b) => a - b))
    }
  })
})
