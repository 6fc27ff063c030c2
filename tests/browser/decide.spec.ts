// Lesson 10: an evening decided step by step, and three halls to solve, against the acoustics module in Node.
import { readFileSync } from 'node:fs'
import { expect, type Page } from '@playwright/test'
import type { Rig } from '../../src/acoustics/index.ts'
import { type LessonHallKey, lessonHall, lessonHallKeys } from '../../src/engine/questions/plan/lesson-halls.ts'
import { planAnswer } from '../../src/engine/questions/plan/plan.ts'
import { goalResults } from '../../src/engine/questions/plan/plan-goals.ts'
import { planNeighbour } from '../../src/engine/questions/plan/plan-neighbour.ts'
import { loadSolvedRig } from '../../src/engine/scene/solved-gear.ts'
import { changeCabinet, movePlace } from '../../src/state/plan-edits.ts'
import { planKey } from '../../src/state/plan-file.ts'
import type { Plan } from '../../src/state/plan-schema.ts'
import { eveningPlans } from '../../src/widgets/decide/evening-plans.ts'
import { placeRows } from '../../src/widgets/plan/describe-plan.ts'
import { grangePlan } from '../../src/widgets/plan/grange-plan.ts'
import { neighbourQuestion, offeredBoxes, planQuestion } from '../../src/widgets/plan/plan-question.ts'
import { goalWords, missingText, solveTitle, valueWords } from '../../src/widgets/solve-hall/describe-solve-hall.ts'
import { hallName, lessonPlan, solvedPlan } from '../../src/widgets/solve-hall/lesson-plans.ts'
import { expectAccessible, expectNoSidewaysScroll, hear, listen, longWork, wakeFigures } from './page-checks.ts'
import { test } from './test.ts'

const path = '/lessons/decide-and-set-up/'
const rigs = ['top-over-sub', 'column-on-base', 'compact-two-way'].map((key) => {
  const { short, description, ...rig } = JSON.parse(readFileSync(`content/gear/${key}.json`, 'utf8'))
  return { key, short, description, rig: { name: key, cabinets: rig.cabinets } as Rig }
})
const boxes = offeredBoxes(rigs)
test.beforeAll(() => Promise.all(rigs.map(({ rig }) => loadSolvedRig(rig))))

const evening = (page: Page) => page.getByRole('region', { name: 'An evening decided step by step' })
const halls = (page: Page) => page.getByRole('region', { name: 'Three halls to solve' })
const button = (page: Page, name: string | RegExp) => halls(page).getByRole('button', { name })

async function open(page: Page, query = '') {
  await page.goto(`${path}${query}`)
  await wakeFigures(page)
}

/** Waits until the page tells what the module gives for a plan of a hall. */
async function expectTold(page: Page, key: LessonHallKey, plan: Plan) {
  const through = neighbourQuestion(plan, boxes)
  const results = goalResults(
    lessonHall(key).goals,
    planAnswer(planQuestion(plan, boxes)),
    through && planNeighbour(through),
  )
  const items = halls(page).locator('.goals li')
  await expect(items).toHaveCount(results.length)
  for (const [index, result] of results.entries()) {
    await expect(items.nth(index)).toContainText(goalWords(result.goal, plan))
    await expect(items.nth(index)).toContainText(
      result.isMet ? `met: ${valueWords(result)}` : `not met: ${valueWords(result)}, ${missingText(result)} missing`,
      longWork,
    )
  }
  await expect(halls(page).locator('.finding')).toHaveText(solveTitle(key, results))
  await expect(halls(page).locator('.told.old')).toHaveCount(0)
}

test('every step of the evening is told, and its last plan opens in the plan of a hall with one press', async ({
  page,
}) => {
  const heard = listen(page)
  await open(page)
  await expect(evening(page).locator('.finding')).toHaveText(/^As usual: the table gets 6 dB more bass/)
  for (const finding of [/^The table moves/, /^The rig comes/, /^The subs go/, /^The tops turn/, /^The subs become/]) {
    await evening(page).getByRole('button', { name: /^Next/ }).click()
    await expect(evening(page).locator('.finding')).toHaveText(finding)
  }
  await evening(page).getByRole('button', { name: /^Next/ }).click()
  await expect(evening(page)).toContainText(/In all: bass 8 dB down at the table/)
  await expect(page).toHaveURL(/decide\.step=level/)

  await evening(page)
    .getByRole('button', { name: /Plan a hall/ })
    .click()
  await expect(page).toHaveURL(/\/plan\/$/)
  const plan = eveningPlans().level
  const sheet = page.getByRole('region', { name: 'Plan of the hall' })
  await expect(sheet).toContainText('This plan came from the lesson.')
  const rows = placeRows(planAnswer(planQuestion(plan, boxes)), plan)
  for (const [index, row] of rows.entries())
    await expect(sheet.locator('.who tbody tr').nth(index).locator('th, td')).toHaveText(row, longWork)
  // Nothing is kept of it before it is changed, and one step back is the reader's own.
  expect(await page.evaluate((key) => localStorage.getItem(key), planKey)).toBeNull()
  await sheet.getByRole('button', { name: 'Undo' }).click()
  const own = placeRows(planAnswer(planQuestion(grangePlan(), boxes)), grangePlan())
  await expect(sheet.locator('.who tbody tr').nth(1).locator('th, td')).toHaveText(own[1] ?? [], longWork)
  await page.reload()
  await expect(sheet).not.toContainText('This plan came from the lesson.')
  expect(heard).toEqual([])
})

test('each hall is solved by hand and by keys as the module says, or one way is shown after two changes', async ({
  page,
}) => {
  const heard = listen(page)
  await open(page)
  await expectTold(page, 'barn', lessonPlan('barn'))
  await expect(halls(page).locator('.hint')).toContainText('Supper table: a step of')
  await expect(button(page, 'show one way')).toBeDisabled()
  const table = halls(page).getByRole('slider', { name: 'Supper table', exact: true })
  await table.focus()
  for (let step = 0; step < 3; step++) await page.keyboard.press('ArrowDown')
  const before = lessonPlan('barn')
  const moved = Number(((await table.getAttribute('aria-valuetext')) ?? '').match(/^([\d.]+) m/)?.[1])
  expect(moved).toBeGreaterThan(0)
  await expectTold(page, 'barn', movePlace(before, 'p2', { xM: moved, zM: 1 }))
  // By numbers, in the fold.
  const field = (name: RegExp) => halls(page).getByRole('textbox', { name })
  await field(/^Supper table: right/).fill('1.5')
  await page.keyboard.press('Enter')
  await field(/^Supper table: from the wall/).fill('2')
  await page.keyboard.press('Enter')
  await expectTold(page, 'barn', movePlace(before, 'p2', { xM: 1.5, zM: 2 }))
  await expect(halls(page).locator('.finding')).toHaveText('Saltings Barn: all 3 met')
  await expect(halls(page).locator('.hint')).toContainText('Nothing is left to do on paper')

  await button(page, /^Next: The Customs Vault/).click()
  await expectTold(page, 'vault', lessonPlan('vault'))
  const level = field(/^level/)
  for (const text of ['-3', '-6']) {
    await level.fill(text)
    await page.keyboard.press('Enter')
    await expectTold(page, 'vault', changeCabinet(lessonPlan('vault'), 'c3', { levelDb: Number(text) }))
  }
  await button(page, 'show one way').click()
  await expectTold(page, 'vault', solvedPlan('vault'))
  await expect(halls(page).locator('.finding')).toHaveText('The Customs Vault: all 4 met')
  await button(page, 'undo').click()
  await expectTold(page, 'vault', changeCabinet(lessonPlan('vault'), 'c3', { levelDb: -6 }))
  // What was solved before stays.
  await halls(page)
    .getByRole('radio', { name: hallName('barn') })
    .check()
  await expect(halls(page).locator('.finding')).toHaveText('Saltings Barn: all 3 met')
  expect(heard).toEqual([])
})

test('every hall begins as the module says, and what cannot be is told and changes nothing', async ({ page }) => {
  for (const key of lessonHallKeys) {
    await open(page, `?solve-hall.v=1&solve-hall.hall=${key}`)
    await expectTold(page, key, lessonPlan(key))
  }
  await open(page)
  const aside = halls(page).getByRole('textbox', { name: /^right of the middle/ })
  await aside.fill('9')
  await page.keyboard.press('Enter')
  await expect(halls(page)).toContainText(/outside the hall/)
  await expectTold(page, 'barn', lessonPlan('barn'))
})

test('it is heard at the table as usual and as decided', async ({ page }) => {
  test.slow()
  await open(page, '?decide.v=1&decide.step=level')
  await evening(page).locator('.place-switch .here').click()
  await expect(evening(page).locator('.place-switch .here')).toHaveAttribute('aria-pressed', 'true', longWork)
  await hear(evening(page), 'front')
})

test('both figures are accessible, and nothing runs out of the page', async ({ page }) => {
  await open(page)
  await expectAccessible(page)
  await expectNoSidewaysScroll(page, [320, 390, 820, 1280])
})
