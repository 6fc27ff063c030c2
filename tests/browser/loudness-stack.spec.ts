import { readFileSync } from 'node:fs'
import { join } from 'node:path'
import { expect, type Page } from '@playwright/test'
import { clearPlace, type Rig, sharpnessAcum } from '../../src/acoustics/index.ts'
import { walkLoudness } from '../../src/engine/questions/walk/walk.ts'
import { loadSolvedRig } from '../../src/engine/scene/solved-gear.ts'
import { exposureSentence } from '../../src/widgets/heard/describe-heard.ts'
import { areaText, hereWord, stackSentence } from '../../src/widgets/loudness-stack/describe-loudness-stack.ts'
import { expectAccessible, expectNoSidewaysScroll, listen } from './page-checks.ts'
import { test } from './test.ts'

const path = '/embed/loudness-stack/'
const stack = (page: Page) => page.getByRole('region', { name: 'How the loudness adds up' })
const rigOf = (name: string): Rig =>
  JSON.parse(readFileSync(join(import.meta.dirname, `../../content/gear/${name}.json`), 'utf8'))

test.beforeAll(async () => {
  for (const name of ['top-over-sub', 'column-on-base']) await loadSolvedRig(rigOf(name))
})

/** What the module says of a place. */
function expected(rigName: string, angleDeg: number, distanceM: number, referenceDbA: number) {
  const rig = rigOf(rigName)
  const place = clearPlace({ angleRad: (angleDeg * Math.PI) / 180, distanceM }, rig)
  return walkLoudness({ rig, place, datum: 'front-face', referenceDbA })
}

async function open(page: Page, query = ''): Promise<string[]> {
  const heard = listen(page)
  await page.goto(`${path}${query}`)
  await expect(page.locator('astro-island[ssr]')).toHaveCount(0)
  return heard
}

const expectSentence = (page: Page, pattern: ReturnType<typeof walkLoudness>, angleDeg: number) =>
  expect(stack(page).locator('.sentence')).toHaveText(stackSentence(pattern.heard, angleDeg))

test('rig, place and level move the sentence, the names and the table to the module’s values', async ({ page }) => {
  const heard = await open(page)
  await expectSentence(page, expected('top-over-sub', 180, 2.5, 85), 180)
  await stack(page).getByRole('combobox', { name: /^rig/ }).selectOption('column-on-base')
  await stack(page)
    .getByRole('slider', { name: /direction/ })
    .fill('120')
  await stack(page)
    .getByRole('slider', { name: /how loud/ })
    .fill('95')
  await stack(page)
    .getByRole('slider', { name: /distance/ })
    .press('ArrowLeft')
  const pattern = expected('column-on-base', 120, 2.45, 95)
  await expectSentence(page, pattern, 120)
  await expect(stack(page).locator('.chart text.behind')).toHaveText(areaText('behind', pattern.heard.here))
  await expect(stack(page).locator('.caption', { hasText: 'NIOSH' })).toContainText(
    exposureSentence(pattern.heard, hereWord(120)),
  )
  await stack(page).locator('summary', { hasText: 'table' }).click()
  const cells = stack(page)
    .getByRole('row', { name: /^sharpness/ })
    .getByRole('cell')
  await expect(cells.nth(1)).toHaveText(sharpnessAcum(pattern.specific.front).toFixed(2))
  await expect(cells.nth(2)).toHaveText(sharpnessAcum(pattern.specific.here).toFixed(2))

  await stack(page).getByLabel('share of the loudness').check()
  await expect(stack(page).locator('.parts > .chart')).toContainText('% per Bark')
  await expect(page).toHaveURL(/stack\.view=share/)
  await open(page, new URL(page.url()).search)
  await expectSentence(page, pattern, 120)
  await expect(stack(page).getByLabel('share of the loudness')).toBeChecked()
  expect(heard).toEqual([])
})

test('in front the two are the same, and the sentence claims nothing', async ({ page }) => {
  await open(page, '?stack.angleDeg=0&stack.rig=nobody')
  await expectSentence(page, expected('top-over-sub', 0, 2.5, 85), 0)
  await expect(stack(page).locator('.sentence')).not.toContainText('what is left')
  await expect(stack(page).locator('.notices')).toContainText('rig “nobody”')
})

test('both places can be heard, and nothing is loaded for it before a press', async ({ page }) => {
  const scripts: string[] = []
  page.on('request', (request) => request.resourceType() === 'script' && scripts.push(request.url()))
  const heard = await open(page)
  expect(scripts.filter((address) => /audition/.test(address))).toEqual([])
  const behind = stack(page).locator('.place-switch .here')
  await behind.click()
  await expect(behind).toHaveAttribute('aria-pressed', 'true')
  await behind.click()
  await expect(behind).toHaveAttribute('aria-pressed', 'false')
  expect(heard).toEqual([])
})

test('with shares shown there is no accessibility violation and no sideways scroll', async ({ page }) => {
  const heard = await open(page, '?stack.view=share')
  await expectAccessible(page)
  await expectNoSidewaysScroll(page)
  expect(heard).toEqual([])
})

test.describe('without JavaScript', () => {
  test.use({ javaScriptEnabled: false })
  test('the drawing and the sentence of the first state are there', async ({ page }) => {
    await page.goto(path)
    await expectSentence(page, expected('top-over-sub', 180, 2.5, 85), 180)
    await expect(stack(page).locator('path.bass')).toHaveCount(2)
    await expect(page.getByRole('button')).toHaveCount(0)
  })
})
