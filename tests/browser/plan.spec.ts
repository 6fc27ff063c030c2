import { readFileSync } from 'node:fs'
import { expect } from '@playwright/test'
import { planAnswer } from '../../src/engine/questions/plan/plan.ts'
import { planNeighbour } from '../../src/engine/questions/plan/plan-neighbour.ts'
import type { NeighbourQuestion } from '../../src/engine/questions/plan/plan-terms.ts'
import { changeCabinet, moveCabinet, movePlace, setCrowd, setGround } from '../../src/state/plan-edits.ts'
import type { Plan } from '../../src/state/plan-schema.ts'
import { crowdWords } from '../../src/widgets/plan/describe-crowd.ts'
import { neighbourWords, planSentence } from '../../src/widgets/plan/describe-plan.ts'
import { grangePlan } from '../../src/widgets/plan/grange-plan.ts'
import { neighbourQuestion, planQuestion } from '../../src/widgets/plan/plan-question.ts'
import { expectAccessible, expectNoSidewaysScroll, listen, longWork } from './page-checks.ts'
import { boxes, expectTold, field, handle, loadRigs, open, sheet } from './plan-pages.ts'
import { test } from './test.ts'

test.beforeAll(loadRigs)

/** What the module gives for a plan, as the page words it. */
const expectedSentence = (plan: Plan) => planSentence(planAnswer(planQuestion(plan, boxes)), plan)

test('the numbers are the module’s, as built, after a drag, a key, a typed delay, outdoors, and with people before the boxes', async ({
  page,
}) => {
  const heard = listen(page)
  await open(page)
  let plan = grangePlan()
  await expectTold(page, plan)
  const question = neighbourQuestion(plan, boxes) as NeighbourQuestion
  await expect(sheet(page)).toContainText(neighbourWords(planNeighbour(question), plan, 'm'))

  await handle(page, 'Quiet table').focus()
  await page.keyboard.press('PageUp')
  await page.keyboard.press('ArrowDown')
  plan = movePlace(plan, 'p2', { xM: -2.45, zM: 1.1 })
  await expectTold(page, plan)

  await handle(page, 'Boxes 1, 2').focus()
  await page.keyboard.press('ArrowRight')
  plan = moveCabinet(plan, 'c1', { xM: -2.5, zM: 3.05 })
  await expectTold(page, plan)

  await field(page, 'What stands where?', 'box').first().selectOption('c2')
  await field(page, 'What stands where?', /^delay/).fill('4.5')
  await page.keyboard.press('Enter')
  await field(page, 'What stands where?', 'inverted').check()
  plan = changeCabinet(plan, 'c2', { delayMs: 4.5, inverted: true })
  await expectTold(page, plan)
  await expect(sheet(page).getByRole('region', { name: 'Setting sheet' }).locator('tbody tr').nth(1)).toContainText(
    '4.5 msinverted',
  )

  await field(page, 'What is round them?', 'outdoors').check()
  plan = setGround(plan, { kind: 'outdoors', lengthM: 18, widthM: 11, ground: 'grass' })
  await expectTold(page, plan)

  await field(page, 'What is round them?', 'everywhere in front').check()
  plan = setCrowd(plan, true)
  await expectTold(page, plan)
  const taken = crowdWords(planAnswer(planQuestion(plan, boxes)), plan, 'm')
  expect(taken.join()).toContain('loses about')
  await expect(sheet(page).getByRole('listitem').filter({ hasText: 'over their shoulders' })).toHaveText(taken)
  expect(heard).toEqual([])
})

test('a place is dragged; undo by key and by button brings it back, redo forth', async ({ page }) => {
  await open(page)
  const before = expectedSentence(grangePlan())
  const bar = handle(page, 'Bar')
  const value = await bar.getAttribute('aria-valuetext')
  await bar.scrollIntoViewIfNeeded()
  const from = await bar.locator('circle.grip').boundingBox()
  if (!from) throw new Error('the handle is not drawn')
  await page.mouse.move(from.x + from.width / 2, from.y + from.height / 2)
  await page.mouse.down()
  await page.mouse.move(from.x - 60, from.y + 40, { steps: 6 })
  await page.mouse.move(from.x - 80, from.y + 60, { steps: 6 })
  await page.mouse.up()
  await expect(bar).not.toHaveAttribute('aria-valuetext', value ?? '')
  const dragged = await bar.getAttribute('aria-valuetext')
  // The whole drag is one step.
  await page.keyboard.press('Control+z')
  await expect(bar).toHaveAttribute('aria-valuetext', value ?? '')
  await expect(sheet(page).locator('.sentence')).toHaveText(before)
  await sheet(page).getByRole('button', { name: 'Redo' }).click()
  await expect(bar).toHaveAttribute('aria-valuetext', dragged ?? '')
  await sheet(page).getByRole('button', { name: 'Undo' }).click()
  await expect(bar).toHaveAttribute('aria-valuetext', value ?? '')
  await expect(sheet(page).getByRole('button', { name: 'Undo' })).toBeDisabled()
})

test('boxes and places come and go; what is not possible is told and changes nothing', async ({ page }) => {
  await open(page)
  const boxRows = sheet(page).getByRole('region', { name: 'Setting sheet' }).locator('tbody tr')
  await expect(boxRows).toHaveCount(4)
  await sheet(page).getByRole('button', { name: 'One more like it' }).click()
  await expect(boxRows).toHaveCount(5)
  await sheet(page).getByRole('button', { name: 'Add this box' }).click()
  await expect(boxRows).toHaveCount(6)
  await sheet(page)
    .getByRole('group', { name: 'What stands where?' })
    .first()
    .getByRole('button', { name: 'Take it away' })
    .click()
  await expect(boxRows).toHaveCount(5)
  await sheet(page).getByRole('button', { name: 'Add a place' }).click()
  await expect(sheet(page).locator('.who tbody tr')).toHaveCount(5)

  const aside = field(page, 'What stands where?', /right of the middle/)
  const was = await aside.inputValue()
  await aside.fill('5.4')
  await page.keyboard.press('Enter')
  await expect(sheet(page)).toContainText(/would stand outside the hall/)
  await expect(boxRows.first()).not.toContainText('5.40')
  await aside.fill('far')
  await page.keyboard.press('Enter')
  await expect(aside).toHaveAttribute('aria-invalid', 'true')
  await page.keyboard.press('Escape')
  await expect(aside).toHaveValue(was)
  const people = field(page, 'What is round them?', 'people in it')
  await people.fill('900')
  await page.keyboard.press('Enter')
  await expect(sheet(page)).toContainText(/198 at most/)
})

test('the plan stays on the device; a bad file is told and nothing is lost; a good one comes back as it was', async ({
  page,
}) => {
  await open(page)
  await handle(page, 'Band').focus()
  await page.keyboard.press('PageUp')
  const moved = movePlace(grangePlan(), 'p3', { xM: 1.3, zM: 2.7 })
  await expectTold(page, moved)
  const download = page.waitForEvent('download')
  await sheet(page).getByRole('button', { name: 'Save as a file' }).click()
  const file = readFileSync(await (await download).path(), 'utf8')
  expect(JSON.parse(file)).toEqual(moved)

  await expect.poll(() => page.evaluate(() => localStorage.getItem('round-the-back.plan') ?? '')).toBe(file)
  await page.reload()
  await expectTold(page, moved)

  const input = sheet(page).getByLabel('Open a file', { exact: true }).and(page.locator('input'))
  const give = (text: string) =>
    input.setInputFiles({ name: 'plan.json', mimeType: 'application/json', buffer: Buffer.from(text) })
  const bad: [string, RegExp][] = [
    ['{"version": 1, "rigs": []}', /another kind/],
    ['not at all', /cannot be read as JSON/],
    [JSON.stringify({ ...moved, version: 7 }), /newer version/],
    [JSON.stringify({ ...moved, cabinets: Array.from({ length: 1000 }, () => moved.cabinets[0]) }), /24 are the most/],
    [JSON.stringify(movePlace(moved, 'p1', { xM: -2.5, zM: 2.9 })), /would be inside box/],
  ]
  for (const [text, words] of bad) {
    await give(text)
    await expect(sheet(page)).toContainText(words)
    await expectTold(page, moved)
  }
  await give(JSON.stringify(grangePlan()))
  await expect(sheet(page)).toContainText('Undo brings the plan before back.')
  await expectTold(page, grangePlan())
  await sheet(page).getByRole('button', { name: 'Undo' }).click()
  await expectTold(page, moved)
})

test('another tab follows', async ({ page, context }) => {
  await open(page)
  const other = await context.newPage()
  await open(other)
  await handle(page, 'Band').focus()
  await page.keyboard.press('PageUp')
  const moved = movePlace(grangePlan(), 'p3', { xM: 1.3, zM: 2.7 })
  await expectTold(other, moved)
  await expect(sheet(other)).toContainText('Another tab changed the plan')
})

test('it prints on one page, with the settings and without controls', async ({ page }) => {
  await open(page)
  const pdf = (await page.pdf({ format: 'A4', preferCSSPageSize: true })).toString('latin1')
  expect(pdf.match(/\/Type\s*\/Page\b(?!s)/g)?.length).toBe(1)
  await page.emulateMedia({ media: 'print' })
  await page.evaluate(() => dispatchEvent(new Event('beforeprint')))
  await expect(sheet(page).getByRole('region', { name: 'Setting sheet' })).toBeVisible()
  await expect(sheet(page).locator('svg').first()).toBeVisible()
  const live = await page
    .locator('main :is(button:not(.term), select, input, [role=status])')
    .evaluateAll((all) => all.filter((each) => each.checkVisibility()).length)
  expect(live).toBe(0)
})

test('it is accessible, and nothing runs out of the page', async ({ page }) => {
  await open(page)
  await expectAccessible(page)
  await expectNoSidewaysScroll(page, [320, 390, 820, 1280])
})

test('what to move is computed; a move is tried and taken back with one press each', async ({ page }) => {
  await open(page)
  await field(page, 'What is round them?', 'outdoors').check()
  const plan = setGround(grangePlan(), { kind: 'outdoors', lengthM: 18, widthM: 11, ground: 'grass' })
  await expectTold(page, plan)
  await sheet(page).getByRole('button', { name: 'Find what helps' }).click()
  const first = sheet(page).locator('.on-request li').first()
  await first.waitFor(longWork)
  const said = await first.textContent()
  const rows = sheet(page).locator('.who tbody tr')
  const tables = rows.filter({ hasText: 'Quiet table' }).locator('td').first()
  const was = await tables.textContent()
  await first.getByRole('button', { name: 'Try it' }).click()
  await expect(first.getByRole('button', { name: 'Go back' })).toHaveAttribute('aria-pressed', 'true')
  await expect(sheet(page).locator('.who.old')).toHaveCount(0)
  await expect(tables).not.toHaveText(was ?? '')
  await first.getByRole('button', { name: 'Go back' }).click()
  await expectTold(page, plan)
  await expect(first).toHaveText(said ?? '')
})

test('outdoors what is set names the ground, places are told from its rear edge, and no wall is asked for', async ({
  page,
}) => {
  await open(page)
  const set = sheet(page).locator('.change summary').first()
  await expect(set).toContainText(/^Hall 18 /)
  await expect(handle(page, 'Dance floor')).toHaveAttribute('aria-valuetext', /from the wall behind$/)
  await expect(field(page, 'Who lives next door?', 'behind which wall')).toBeVisible()
  await field(page, 'What is round them?', 'outdoors').check()
  await expect(set).toContainText(/^On grass, 18 /)
  await expect(handle(page, 'Dance floor')).toHaveAttribute('aria-valuetext', /from the rear edge$/)
  await expect(
    sheet(page).getByText(
      'Outdoors no wall is between: add a place where the neighbour is, outside the drawing if need be.',
    ),
  ).toBeVisible()
  await expect(field(page, 'Who lives next door?', 'behind which wall')).toHaveCount(0)
  await expect(sheet(page)).not.toContainText('from the wall behind')
})
