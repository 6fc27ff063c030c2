// The self-check at a lesson's end: by keyboard, with one right and one wrong answer; what is kept; what it weighs before it is opened.
import { expect, type Page } from '@playwright/test'
import { drawnQuestions } from '../../src/engine/questions/check/drawn-check.ts'
import { lessonQuestions } from '../../src/engine/questions/check/lesson-questions.ts'
import { airOf } from '../../src/engine/scene/air.ts'
import { lessonChecksKey } from '../../src/state/lesson-checks-change.ts'
import { answerText } from '../../src/widgets/self-check/value-words.ts'
import { builtPages } from './built-pages.ts'
import { expectAccessible, expectNoSidewaysScroll } from './page-checks.ts'
import { hasReadOn } from './readers.ts'
import { test } from './test.ts'

test.use({ kept: hasReadOn })

const seed = 11
const lessons = ['small-box-long-wave', 'the-wall-joins-in']

/** The questions of a lesson as a device asks them that has begun with our seed. */
const drawn = (lesson: string) => drawnQuestions(lessonQuestions[lesson] ?? {}, seed)
function judged(lesson: string, place: number) {
  const shown = drawn(lesson)[place]
  if (shown?.kind !== 'judgement') throw new Error(`question ${place + 1} of ${lesson} is no judgement`)
  return shown
}
function computed(lesson: string, place: number) {
  const shown = drawn(lesson)[place]
  if (shown?.kind !== 'computed') throw new Error(`question ${place + 1} of ${lesson} is not computed`)
  return shown
}
/** The right answer as the page writes it, in a unit of length. */
function rightText(lesson: string, place: number, units: 'm' | 'ft' = 'm') {
  const { question, values } = computed(lesson, place)
  return answerText(question.answer, question.solve(values, airOf()), units)
}

/** Lets the device have begun with our seed and answered so far, unless it keeps something already. */
const begin = (page: Page, lesson: string, results: boolean[] = []) =>
  page.addInitScript(([key, text]) => void (localStorage.getItem(key) ?? localStorage.setItem(key, text)), [
    lessonChecksKey,
    JSON.stringify({ version: 1, lessons: { [lesson]: { going: { seed, of: 8, results } } } }),
  ] as const)

const section = (page: Page) => page.locator('.self-check')
const opener = (page: Page) => section(page).locator('summary')
const ask = (page: Page) => section(page).locator('.ask')
const place = (page: Page) => section(page).locator('.place')
const field = (page: Page) => section(page).getByRole('textbox', { name: 'Your answer' })
const go = (page: Page) => section(page).locator('button.primary')

async function open(page: Page, lesson: string) {
  await page.goto(`/lessons/${lesson}/`)
  await opener(page).press('Enter')
  await expect(place(page)).toBeVisible()
}

/** Chooses one of the choices by keyboard, from wherever the focus is in the group. */
async function choose(page: Page, choice: number) {
  await section(page).getByRole('radio').first().focus()
  await page.keyboard.press('Space')
  for (let step = 0; step < choice; step++) await page.keyboard.press('ArrowDown')
  await expect(section(page).getByRole('radio').nth(choice)).toBeChecked()
}

for (const lesson of lessons)
  test(`${lesson}: by keyboard one wrong, one right; the link leads to the place; both are kept`, async ({ page }) => {
    await begin(page, lesson)
    await open(page, lesson)
    await expect(place(page)).toContainText('1 of 8')
    const { choices, question } = judged(lesson, 0)
    await expect(section(page).getByRole('radio')).toHaveCount(choices.length)
    await expectAccessible(page, '.self-check')

    // Nothing chosen is no answer.
    await go(page).focus()
    await page.keyboard.press('Enter')
    await expect(section(page)).toContainText('Nothing is chosen yet')
    await choose(
      page,
      choices.findIndex((choice) => choice !== question.right),
    )
    await page.keyboard.press('Tab')
    await expect(go(page)).toBeFocused()
    await page.keyboard.press('Enter')
    await expect(section(page)).toContainText('Not right.')
    await expect(section(page)).toContainText('Right is:')
    await expect(go(page)).toBeFocused()
    await expectAccessible(page, '.self-check')
    const link = section(page).getByRole('link', { name: 'Read it again: ' })
    await page.keyboard.press('Shift+Tab')
    await expect(link).toBeFocused()
    await page.keyboard.press('Enter')
    await expect(page).toHaveURL(new RegExp(`#${question.anchor}$`))
    await expect(page.locator(`[id="${question.anchor}"]`)).toBeInViewport()

    await go(page).focus()
    await page.keyboard.press('Enter')
    await expect(place(page)).toContainText('2 of 8')
    await expect(ask(page)).toBeFocused()
    await page.keyboard.press('Tab')
    await expect(field(page)).toBeFocused()
    await page.keyboard.type('a few')
    await page.keyboard.press('Enter')
    await expect(section(page)).toContainText('Allowed: ')
    await expect(field(page)).toBeFocused()
    await expectAccessible(page, '.self-check')
    await page.keyboard.press('ControlOrMeta+a')
    await page.keyboard.type(rightText(lesson, 1))
    await page.keyboard.press('Enter')
    await expect(section(page)).toContainText('Right.')
    await expect(section(page)).toContainText(rightText(lesson, 1))
    await expect(go(page)).toBeFocused()
    await expectAccessible(page, '.self-check')

    await open(page, lesson)
    await expect(place(page)).toContainText('3 of 8')
    await page.goto('/lessons/')
    await expect(page.locator(`[data-checked="${lesson}"]`)).toHaveText('2 of 8 answered so far')
    await expect(page.locator('[data-checked="tall-and-thin"]')).toBeHidden()
  })

test('at the end it says how many and what to look at again; the list tells the day; again has other numbers', async ({
  page,
}) => {
  const [lesson = ''] = lessons
  const results = [true, false, true, true, false, true, true]
  await begin(page, lesson, results)
  await open(page, lesson)
  await expect(place(page)).toContainText('8 of 8')
  await field(page).fill(rightText(lesson, 7))
  await go(page).click()
  await expect(section(page)).toContainText('Right.')
  await expect(go(page)).toHaveText('to the result')
  await go(page).click()
  await expect(section(page).locator('.result')).toHaveText('6 of 8')
  await expect(section(page).locator('.result')).toBeFocused()
  const wrong = drawn(lesson).filter((_, at) => results[at] === false)
  const anchors = [...new Set(wrong.map(({ question }) => `#${question.anchor}`))]
  const links = section(page).getByRole('listitem').getByRole('link')
  expect(await links.evaluateAll((all) => all.map((each) => each.getAttribute('href')))).toEqual(anchors)
  await expectAccessible(page, '.self-check')

  // What stands there stays until the reader begins anew.
  await page.reload()
  await opener(page).click()
  await expect(section(page).locator('.result')).toHaveText('6 of 8')
  await page.goto('/lessons/')
  await expect(page.locator(`[data-checked="${lesson}"]`)).toHaveText(/^checked 6 of 8 on \d{1,2} \p{L}+$/u)
  await expectAccessible(page, '.lessons')
  await page.goto(`/lessons/${lesson}/`)
  await opener(page).click()
  await section(page).getByRole('button', { name: 'again with other numbers' }).click()
  await expect(place(page)).toContainText('1 of 8')
  await expect(place(page)).toContainText('Last time to the end: 6 of 8')
  const kept = () =>
    page.evaluate(([key, name]) => JSON.parse(localStorage.getItem(key) ?? '{}').lessons[name], [
      lessonChecksKey,
      lesson,
    ] as const)
  // Written in turn with other tabs, a moment later.
  await expect.poll(async () => (await kept()).going.seed).not.toBe(seed)
  expect(await kept()).toMatchObject({ done: { right: 6, of: 8 }, going: { of: 8, results: [] } })
})

test('in feet the question tells feet and takes them', async ({ page }) => {
  const lesson = 'walk-round-the-back'
  await begin(page, lesson, [true])
  await open(page, lesson)
  await page.locator('#units-switch').click()
  await expect(section(page)).toContainText('A bare number is in feet')
  await field(page).fill(rightText(lesson, 1, 'ft'))
  await field(page).press('Enter')
  await expect(section(page)).toContainText('Right.')
  await expect(section(page)).toContainText('ft/s')
})

test('the air of the site is the air of the question', async ({ page }) => {
  const lesson = 'walk-round-the-back'
  await begin(page, lesson, [true])
  await page.goto(`/lessons/${lesson}/?air=40,50`)
  await opener(page).click()
  const { question, values } = computed(lesson, 1)
  const warm = airOf({ temperatureC: 40, humidityPct: 50 })
  await field(page).fill(answerText(question.answer, question.solve(values, warm), 'm'))
  await field(page).press('Enter')
  await expect(section(page)).toContainText('Right.')
  await expect(section(page)).toContainText(`${Number(warm.speedOfSoundMps.toFixed(1))}\u00a0m/s`)
})

test('an answer in one tab is the other tab’s too', async ({ context }) => {
  const [lesson = ''] = lessons
  const [one, other] = [await context.newPage(), await context.newPage()]
  for (const page of [one, other]) {
    await begin(page, lesson)
    await open(page, lesson)
    await expect(place(page)).toContainText('1 of 8')
  }
  await choose(one, 0)
  await go(one).click()
  await expect(place(other)).toContainText('2 of 8')
  // What is being read in the first one stays.
  await expect(section(one)).toContainText('You said:')
})

test('where nothing can be kept it says so and goes on', async ({ page }) => {
  const [lesson = ''] = lessons
  await page.addInitScript((key) => {
    const set = Storage.prototype.setItem
    Storage.prototype.setItem = function (name, text) {
      if (name === key) throw new DOMException('full', 'QuotaExceededError')
      set.call(this, name, text)
    }
  }, lessonChecksKey)
  await open(page, lesson)
  await choose(page, 0)
  await go(page).click()
  await expect(section(page).getByRole('status').first()).toContainText('keeps nothing of your answers')
  await go(page).click()
  await expect(place(page)).toContainText('2 of 8')
})

test('before it is opened nothing of it is fetched but a line of script; without a connection it says so', async ({
  page,
}) => {
  const scripts = new Map<string, number>()
  page.on('response', async (response) => {
    const { pathname } = new URL(response.url())
    if (pathname.endsWith('.js')) scripts.set(pathname, (await response.body().catch(() => Buffer.alloc(0))).length)
  })
  const isOwn = (path: string) => /self-check/i.test(path) || /SelfCheck/.test(path)
  await page.goto('/lessons/the-wall-joins-in/')
  await page.waitForLoadState('networkidle')
  const own = [...scripts].filter(([path]) => isOwn(path))
  const bytes = own.reduce((sum, [, size]) => sum + size, 0)
  expect(bytes, JSON.stringify(own)).toBeGreaterThan(0)
  expect(bytes, JSON.stringify(own)).toBeLessThan(1000)
  await page.route(/start-self-check/, (route) => route.abort())
  await opener(page).click()
  await expect(section(page).getByRole('status')).toContainText('could not be fetched')
})

test('opened, it does not scroll sideways, question, verdict and result alike', async ({ page }) => {
  const [lesson = ''] = lessons
  await begin(page, lesson, [true, true, true, true, true, false])
  await open(page, lesson)
  const widths = [320, 390, 1280]
  await expectNoSidewaysScroll(page, widths)
  await choose(page, 0)
  await go(page).click()
  await expectNoSidewaysScroll(page, widths)
  await go(page).click()
  await expect(field(page)).toBeVisible()
  await expectNoSidewaysScroll(page, widths)
  await field(page).fill('1')
  await go(page).click()
  await go(page).click()
  await expect(section(page).locator('.result')).toBeVisible()
  await expectNoSidewaysScroll(page, widths)
})

test('every heading that a question points to is on the built page', async ({ page }) => {
  for (const [lesson, questions] of Object.entries(lessonQuestions)) {
    expect(builtPages).toContain(`/lessons/${lesson}/`)
    const html = await (await page.request.get(`/lessons/${lesson}/`)).text()
    for (const { anchor } of Object.values(questions)) expect(html, lesson).toContain(` id="${anchor}"`)
  }
})

test('a lesson without questions has no self-check', async ({ page }) => {
  await page.goto('/lessons/more-boxes/')
  await expect(section(page)).toHaveCount(0)
})

test.describe('without JavaScript', () => {
  test.use({ javaScriptEnabled: false })
  test('it is not there, and the lesson ends as it does', async ({ page }) => {
    for (const lesson of lessons) {
      await page.goto(`/lessons/${lesson}/`)
      await expect(section(page)).toBeHidden()
      await expect(page.getByRole('navigation', { name: 'Go on from here' })).toBeVisible()
    }
    await page.goto('/lessons/')
    for (const line of await page.locator('[data-checked]').all()) await expect(line).toBeHidden()
  })
})
