// The sign-off sheet: what the device keeps stands on it, it is one sheet of paper, and it goes from device to device as a file.
import { readFile } from 'node:fs/promises'
import { expect, type Page } from '@playwright/test'
import { finalCheckName } from '../../src/state/lesson-checks.ts'
import { lessonChecksKey } from '../../src/state/lesson-checks-change.ts'
import { expectAccessible, expectNoSidewaysScroll, listen } from './page-checks.ts'
import { baseURL } from './readers.ts'
import { sheets } from './sheets.ts'
import { anotherReader, test } from './test.ts'

const path = '/lessons/sheet/'
const checks = {
  'walk-round-the-back': { done: { right: 7, of: 8, on: '2026-11-02' } },
  'the-wall-joins-in': {
    done: { right: 5, of: 8, on: '2026-11-20' },
    best: { right: 8, of: 8, on: '2026-11-09' },
    going: { seed: 9, of: 8, results: [true] },
  },
  [finalCheckName]: { done: { right: 17, of: 20, on: '2026-11-28', passed: true } },
}
const device = (lessons: object) => ({ [lessonChecksKey]: JSON.stringify({ version: 1, lessons }) })
test.use({ kept: device(checks) })

const name = (page: Page) => page.getByRole('textbox', { name: 'Name' })
const line = (page: Page, lesson: string) => page.getByRole('row', { name: new RegExp(lesson) })
const note = (page: Page) => page.locator('.take [role=status]')

async function open(page: Page) {
  await page.goto(path)
  await expect(page.locator('astro-island[ssr]')).toHaveCount(0)
}
async function saved(page: Page): Promise<string> {
  const [download] = await Promise.all([
    page.waitForEvent('download'),
    page.getByRole('button', { name: 'save as a file' }).click(),
  ])
  expect(download.suggestedFilename()).toBe('course-progress.json')
  return readFile(await download.path(), 'utf8')
}
const give = (page: Page, text: string) =>
  page
    .locator('input[type=file]')
    .setInputFiles({ name: 'course-progress.json', mimeType: 'application/json', buffer: Buffer.from(text) })
const keptLessons = (page: Page) =>
  page.evaluate((key) => JSON.parse(localStorage.getItem(key) ?? '{"lessons":{}}').lessons, lessonChecksKey)

test('it tells what was passed and when, and what was not; the name stays, and goes into no link', async ({ page }) => {
  const heard = listen(page)
  await open(page)
  await expect(line(page, 'Walk round the back')).toContainText('7 of 8')
  await expect(line(page, 'Walk round the back')).toContainText('2 Nov 2026')
  await expect(line(page, 'The wall joins in')).toContainText('8 of 8')
  await expect(line(page, 'The wall joins in')).toContainText('last 5 of 8, 20 Nov 2026')
  await expect(line(page, 'Tall and thin')).toContainText('not yet')
  await expect(line(page, 'Final check')).toContainText('passed, 17 of 20')
  await expect(page.locator('.caution')).toContainText('This is training, not a licence')
  await name(page).fill('Ada <b>Tide</b>')
  await expect.poll(() => page.evaluate(() => localStorage.getItem('round-the-back.trainee'))).toBe('Ada <b>Tide</b>')
  expect(page.url()).toBe(`${baseURL}${path}`)
  for (const link of await page.locator('a').all()) expect(await link.getAttribute('href')).not.toContain('Ada')
  await page.reload()
  await expect(name(page)).toHaveValue('Ada <b>Tide</b>')
  await expectAccessible(page)
  await expectNoSidewaysScroll(page, [320, 390, 820, 1280])
  expect(heard).toEqual([])
})

test('it prints as one sheet, with the name, what was passed, the blanks and the lines to sign on', async ({
  page,
}) => {
  await open(page)
  await name(page).fill('Ada Tide')
  for (const format of ['A4', 'Letter'] as const) expect(await sheets(page, format), format).toBe(1)
  await page.emulateMedia({ media: 'print' })
  const main = page.locator('main')
  for (const words of [
    'Ada Tide',
    'passed, 17 of 20',
    '28 Nov 2026',
    'last 5 of 8',
    'not yet',
    'This is training, not a licence',
    'hearing protection',
    'two people or wheels',
    'Places the rig off the wall',
    'Finds the dip',
    'Steers a pair',
    'signature',
  ])
    await expect(main.getByText(words).filter({ visible: true }).first(), words).toBeVisible()
  await expect(page.locator('.square')).toHaveCount(15)
  const live = main.locator(':is(button, input, select, [role=status])')
  const seen = live.evaluateAll((found) => found.filter((each) => each.checkVisibility()).map((each) => each.outerHTML))
  expect(await seen).toEqual([])
})

test('the longest name, right-to-left and with signs of a telephone, is a name and breaks nothing', async ({
  page,
}) => {
  await open(page)
  for (const long of ['ש'.repeat(80), '🌊'.repeat(40), 'W'.repeat(80)]) {
    await name(page).fill(long)
    expect(await sheets(page)).toBe(1)
    await expectNoSidewaysScroll(page, [320])
    await page.emulateMedia({ media: 'print' })
    await expect(page.locator('.on-paper bdi')).toHaveText(long)
    await page.emulateMedia({ media: null })
  }
})

test('saved here and opened on another device it is the same, and opened once more it brings nothing', async ({
  page,
  browser,
}) => {
  await open(page)
  await name(page).fill('Ada Tide')
  const text = await saved(page)
  const context = await anotherReader(browser, { baseURL, kept: device({}) })
  const other = await context.newPage()
  await open(other)
  await expect(line(other, 'Final check')).toContainText('not yet')
  await give(other, text)
  await expect(note(other)).toHaveText('Taken in: 3 of 3.')
  await expect(line(other, 'Final check')).toContainText('passed, 17 of 20')
  await expect(name(other)).toHaveValue('Ada Tide')
  expect(await keptLessons(other)).toEqual(checks)
  expect(await saved(other)).toBe(text)
  await give(other, text)
  await expect(note(other)).toContainText('Nothing in the file was new')
  await context.close()
})

test('a file from another device takes nothing away: the better and the later result stay', async ({ page }) => {
  await open(page)
  const theirs = {
    'walk-round-the-back': { done: { right: 3, of: 8, on: '2026-12-01' } },
    'the-wall-joins-in': { done: { right: 6, of: 8, on: '2026-10-01' } },
    'tall-and-thin': { done: { right: 4, of: 8, on: '2026-12-01' } },
  }
  await give(page, JSON.stringify({ kind: 'round-the-back-course', version: 1, lessons: theirs }))
  await expect(note(page)).toHaveText('Taken in: 2 of 3.')
  await expect(line(page, 'Walk round the back')).toContainText('7 of 8')
  await expect(line(page, 'Walk round the back')).toContainText('last 3 of 8, 1 Dec 2026')
  await expect(line(page, 'Tall and thin')).toContainText('4 of 8')
  expect(await keptLessons(page)).toMatchObject({ 'the-wall-joins-in': checks['the-wall-joins-in'] })
})

test('a file of another kind, version or person is refused in words, and nothing is changed', async ({ page }) => {
  await open(page)
  await name(page).fill('Ada Tide')
  await expect.poll(() => page.evaluate(() => localStorage.getItem('round-the-back.trainee'))).toBe('Ada Tide')
  const good = JSON.parse(await saved(page))
  const done = { right: 9, of: 8, on: '2026-11-02' }
  for (const [text, said] of [
    ['once upon a time', 'no JSON'],
    [JSON.stringify({ version: 1, rigs: [] }), 'a file of another kind'],
    [JSON.stringify({ ...good, version: 7 }), 'a newer version'],
    [JSON.stringify({ ...good, lessons: { 'tall-and-thin': { done } } }), 'damaged'],
    [JSON.stringify({ ...good, name: 'Grace Ebb' }), 'The file is Grace Ebb’s'],
  ] as const) {
    await give(page, text)
    await expect(note(page)).toContainText(said)
    await expect(note(page)).toContainText('Nothing was changed')
  }
  await expectAccessible(page, '.take')
  expect(await keptLessons(page)).toEqual(checks)
})

test('what one tab answers and types, the sheet in the other shows', async ({ context }) => {
  const [one, other] = [await context.newPage(), await context.newPage()]
  for (const page of [one, other]) await open(page)
  await name(one).fill('Grace Ebb')
  await expect(name(other)).toHaveValue('Grace Ebb')
  const file = (lesson: string) =>
    JSON.stringify({
      kind: 'round-the-back-course',
      version: 1,
      lessons: { [lesson]: { done: { right: 6, of: 8, on: '2026-12-02' } } },
    })
  await Promise.all([give(one, file('tall-and-thin')), give(other, file('small-box-long-wave'))])
  for (const page of [one, other])
    for (const title of ['Tall and thin', 'Small box, long wave'])
      await expect(line(page, title)).toContainText('6 of 8')
})

test.describe('where nothing can be kept', () => {
  test('it says so, and the name stands on the sheet all the same', async ({ page }) => {
    await page.addInitScript(() => {
      Storage.prototype.setItem = () => {
        throw new DOMException('full', 'QuotaExceededError')
      }
    })
    await open(page)
    await name(page).fill('Ada Tide')
    await expect(page.locator('.note')).toContainText('does not keep the name')
    await page.emulateMedia({ media: 'print' })
    await expect(page.locator('.on-paper bdi')).toHaveText('Ada Tide')
  })
})

test.describe('without JavaScript', () => {
  test.use({ javaScriptEnabled: false })
  test('it is a sheet to fill in by hand', async ({ page }) => {
    await page.goto(path)
    await expect(line(page, 'Walk round the back')).toBeVisible()
    await expect(page.getByText('Steers a pair')).toBeVisible()
    await expect(page.getByRole('button')).toHaveCount(0)
  })
})
