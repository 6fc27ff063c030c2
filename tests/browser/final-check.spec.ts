// The final check of the course: taken to passed and to not passed, left in the middle, in two tabs; what it weighs before it is begun.
import { expect, type Page } from '@playwright/test'
import { type DrawnQuestion, drawnQuestions } from '../../src/engine/questions/check/drawn-check.ts'
import { finalLesson, finalQuestions } from '../../src/engine/questions/check/final-check.ts'
import { lessonQuestions } from '../../src/engine/questions/check/lesson-questions.ts'
import { airOf } from '../../src/engine/scene/air.ts'
import { finalCheckName } from '../../src/state/lesson-checks.ts'
import { lessonChecksKey } from '../../src/state/lesson-checks-change.ts'
import { answerText } from '../../src/widgets/self-check/value-words.ts'
import { builtPages } from './built-pages.ts'
import { expectAccessible, expectNoSidewaysScroll, listen } from './page-checks.ts'
import { hasReadOn } from './readers.ts'
import { test } from './test.ts'

test.use({ kept: hasReadOn })

const path = '/lessons/final-check/'
const seed = 23
const drawn = finalQuestions(lessonQuestions, seed)
const all = drawn.length

/** Lets the device have begun with our seed and answered so far, unless it keeps something already. */
const begun = (page: Page, results: boolean[] = [], more: object = {}) =>
  page.addInitScript(([key, text]) => void (localStorage.getItem(key) ?? localStorage.setItem(key, text)), [
    lessonChecksKey,
    JSON.stringify({ version: 1, lessons: { [finalCheckName]: { going: { seed, of: all, results }, ...more } } }),
  ] as const)
const kept = (page: Page) =>
  page.evaluate(([key, name]) => JSON.parse(localStorage.getItem(key) ?? '{"lessons":{}}').lessons[name], [
    lessonChecksKey,
    finalCheckName,
  ] as const)

const section = (page: Page) => page.locator('.final-check')
const beginButton = (page: Page) => page.locator('#begin-final-check')
const place = (page: Page) => section(page).locator('.place')
const field = (page: Page) => section(page).getByRole('textbox', { name: 'Your answer' })
const go = (page: Page) => section(page).locator('form button.primary')
const result = (page: Page) => section(page).locator('.result')

async function open(page: Page) {
  await page.goto(path)
  await beginButton(page).press('Enter')
}

/** Answers the question that is shown, and goes on. */
async function answer(page: Page, shown: DrawnQuestion, right: boolean) {
  if (shown.kind === 'computed') {
    const solved = shown.question.solve(shown.values, airOf())
    const wrong = solved > 1 ? solved * 0.5 : solved * 1.5 + 0.05
    await field(page).fill(answerText(shown.question.answer, right ? solved : wrong, 'm'))
  } else {
    const choice = shown.choices.findIndex((one) => (one === shown.question.right) === right)
    await section(page).getByRole('radio').nth(choice).check()
  }
  await go(page).click()
  await expect(section(page).locator('.verdict')).toContainText(right ? 'Right.' : 'Not right.')
}
const goOn = async (page: Page) => go(page).click()

test('taken to its end with all right it is passed, and list, sheet and page say so with the day', async ({ page }) => {
  const heard = listen(page)
  await begun(page)
  await open(page)
  for (const [number, shown] of drawn.entries()) {
    await expect(place(page)).toContainText(`${number + 1} of ${all}`)
    await answer(page, shown, true)
    await goOn(page)
  }
  await expect(result(page)).toHaveText(`${all} of ${all}`)
  await expect(result(page)).toBeFocused()
  await expect(section(page)).toContainText('Passed.')
  await expectAccessible(page, 'main')
  expect((await kept(page)).done).toMatchObject({ right: all, of: all, passed: true })
  await section(page).getByRole('link', { name: 'sign-off sheet' }).click()
  await expect(page).toHaveURL(/\/lessons\/sheet\/$/)
  await expect(page.getByRole('row', { name: /^Final check/ })).toContainText(`passed, ${all} of ${all}`)
  await page.goto('/lessons/')
  await expect(page.locator(`[data-checked="${finalCheckName}"]`)).toHaveText(
    new RegExp(`^passed: ${all} of ${all} on \\d{1,2} \\p{L}+$`, 'u'),
  )
  expect(heard).toEqual([])
})

test('one lesson with nothing right is not passed; the lesson is named, and each wrong answer leads to its place', async ({
  page,
}) => {
  const lesson = finalLesson(drawn.at(-1)?.id ?? '')
  const results = drawn.map(({ id }) => finalLesson(id) !== lesson).slice(0, -1)
  await begun(page, results)
  await open(page)
  await expect(place(page)).toContainText(`${all} of ${all}`)
  const [last] = drawn.slice(-1)
  if (!last) throw new Error('no question')
  await answer(page, last, false)
  await expect(section(page).getByRole('link', { name: 'Read it again: Lesson ' })).toHaveAttribute(
    'href',
    `/lessons/${lesson}/#${last.question.anchor}`,
  )
  await expectAccessible(page, 'main')
  await goOn(page)
  await expect(result(page)).toHaveText(`${all - 2} of ${all}`)
  await expect(section(page)).toContainText('Not passed yet')
  await expect(section(page)).toContainText('Nothing was right in: ')
  await expectAccessible(page, 'main')
  const wrong = drawn.filter(({ id }) => finalLesson(id) === lesson)
  const expected = [...new Set(wrong.map(({ question }) => `/lessons/${lesson}/#${question.anchor}`))]
  const links = section(page).getByRole('listitem').getByRole('link')
  expect((await links.evaluateAll((found) => found.map((link) => link.getAttribute('href')))).sort()).toEqual(
    expected.sort(),
  )
  // The link leads past the lesson's guess to the heading itself, and a reader who comes back finds the result.
  await links.first().click()
  await expect(page.locator(`[id="${new URL(page.url()).hash.slice(1)}"]`)).toBeInViewport()
  await page.goBack()
  await expect(beginButton(page).or(result(page))).toBeVisible()
  expect((await kept(page)).done).toMatchObject({ right: all - 2, passed: false })
  await page.goto('/lessons/sheet/')
  await expect(page.getByRole('row', { name: /^Final check/ })).toContainText(`not passed, ${all - 2} of ${all}`)
})

test('a poorer result later does not take the better one off the sheet', async ({ page }) => {
  const passed = { right: 17, of: all, on: '2026-01-31', passed: true }
  await begun(
    page,
    drawn.slice(1).map(() => false),
    { done: passed },
  )
  await open(page)
  const [last] = drawn.slice(-1)
  if (!last) throw new Error('no question')
  await answer(page, last, true)
  await goOn(page)
  await expect(section(page)).toContainText('If an earlier result was better, it stays')
  expect(await kept(page)).toMatchObject({ done: { right: 1, passed: false }, best: passed })
  await page.goto('/lessons/sheet/')
  const line = page.getByRole('row', { name: /^Final check/ })
  await expect(line).toContainText(`passed, 17 of ${all}`)
  await expect(line).toContainText('31 Jan 2026')
  await expect(line).toContainText(`last 1 of ${all}`)
})

test('left in the middle nothing is lost: the same questions go on, and the button says where', async ({ page }) => {
  await begun(page)
  await open(page)
  for (const shown of drawn.slice(0, 2)) {
    await answer(page, shown, shown === drawn[0])
    await goOn(page)
  }
  await expect(place(page)).toContainText(`3 of ${all}`)
  const ask = await section(page).locator('.ask').textContent()
  await expect.poll(async () => (await kept(page)).going.results).toEqual([true, false])
  await page.reload()
  await expect(beginButton(page)).toHaveText(`go on with question 3 of ${all}`)
  await expect(page.locator(`[data-checked="${finalCheckName}"]`)).toHaveText(`2 of ${all} answered so far`)
  await beginButton(page).click()
  await expect(place(page)).toContainText(`3 of ${all}`)
  await expect(section(page).locator('.ask')).toHaveText(ask ?? '')
  await expect(section(page).locator('.ask')).toBeFocused()
  // A wrong answer's place is in a lesson: a reader may go there in the middle, and come back.
  await page.goto('/lessons/tall-and-thin/#do')
  await page.goto(path)
  await expect(beginButton(page)).toHaveText(`go on with question 3 of ${all}`)
})

test('a new check has other questions or numbers; the same device asks them in every tab', async ({ context }) => {
  const [one, other] = [await context.newPage(), await context.newPage()]
  await open(one)
  await expect(place(one)).toContainText(`1 of ${all}`)
  // The first answer keeps the seed.
  const choices = section(one).getByRole('radio')
  if (await choices.count()) await choices.first().check()
  else await field(one).fill('1')
  await go(one).click()
  await expect(section(one).locator('.verdict')).not.toBeEmpty()
  await open(other)
  await expect(place(other)).toContainText(`2 of ${all}`)
  await goOn(one)
  await expect(section(one).locator('.ask')).toHaveText((await section(other).locator('.ask').textContent()) ?? '')
  const { seed: fresh } = (await kept(one)).going
  expect(fresh).not.toBe(seed)
})

test('before it is begun none of its code is fetched; without a connection it says so, and tries again', async ({
  page,
}) => {
  const scripts = new Map<string, number>()
  page.on('response', async (response) => {
    const { pathname } = new URL(response.url())
    if (pathname.endsWith('.js')) scripts.set(pathname, (await response.body().catch(() => Buffer.alloc(0))).length)
  })
  await page.goto(path)
  await page.waitForLoadState('networkidle')
  const own = [...scripts].filter(([name]) => /final|FinalCheck|self-check|SelfCheck/.test(name))
  expect(own.length).toBeGreaterThan(0)
  expect(
    own.reduce((sum, [, size]) => sum + size, 0),
    JSON.stringify(own),
  ).toBeLessThan(2000)
  await page.route(/start-final-check/, (route) => route.abort())
  await beginButton(page).click()
  await expect(page.locator('#final-check-note')).toContainText('could not be fetched')
  await expect(beginButton(page)).toBeVisible()
})

test('what counts as passed is said before it is begun', async ({ page }) => {
  await page.goto(path)
  await expect(page.locator('main')).toContainText(
    `${all} questions in mixed order, two from each of the ${all / 2} lessons`,
  )
  await expect(page.locator('main')).toContainText(
    'Passed is 17 right answers or more, with at least one in each lesson',
  )
  await expect(page.locator('.caution')).toContainText('Local codes and licensed people decide')
})

test('question, verdict and result stay within the screen', async ({ page }) => {
  await begun(
    page,
    drawn.slice(1).map((_, index) => index % 3 > 0),
  )
  await open(page)
  await expect(place(page)).toContainText(`${all} of ${all}`)
  const widths = [320, 390, 820, 1280]
  await expectNoSidewaysScroll(page, widths)
  const [last] = drawn.slice(-1)
  if (!last) throw new Error('no question')
  await answer(page, last, false)
  await expectNoSidewaysScroll(page, widths)
  await goOn(page)
  await expect(result(page)).toBeVisible()
  await expectNoSidewaysScroll(page, widths)
})

test('every place to which a question of the final check may lead is on the built page of its lesson', async ({
  page,
}) => {
  const html = new Map<string, string>()
  for (const lesson of Object.keys(lessonQuestions)) {
    expect(builtPages).toContain(`/lessons/${lesson}/`)
    html.set(lesson, await (await page.request.get(`/lessons/${lesson}/`)).text())
  }
  for (let other = 0; other < 300; other++)
    for (const { id, question } of finalQuestions(lessonQuestions, other))
      expect(html.get(finalLesson(id)), id).toContain(` id="${question.anchor}"`)
  expect(drawnQuestions(lessonQuestions['tall-and-thin'] ?? {}, 1).length).toBeGreaterThan(0)
})

test('it is reached from the list, from the last lesson and from what comes after it', async ({ page }) => {
  for (const from of ['/lessons/', '/lessons/decide-and-set-up/', '/lessons/afterwards/']) {
    await page.goto(from)
    await expect(page.locator(`main a[href="${path}"]`).first()).toBeVisible()
  }
  for (const from of ['/lessons/', '/lessons/afterwards/'])
    for (const to of ['/lessons/sheet/', '/lessons/card/']) {
      await page.goto(from)
      await expect(page.locator(`main a[href="${to}"]`).first()).toBeVisible()
    }
})

test.describe('without JavaScript', () => {
  test.use({ javaScriptEnabled: false })
  test('it says that the questions need a script, and how it would go', async ({ page }) => {
    await page.goto(path)
    await expect(page.locator('.without-script')).toBeVisible()
    await expect(page.locator('main')).toContainText('Passed is 17 right answers')
    await expect(beginButton(page)).toBeHidden()
  })
})
