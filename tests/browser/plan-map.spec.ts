import { readFileSync } from 'node:fs'
import { expect, type Page } from '@playwright/test'
import type { Rig } from '../../src/acoustics/index.ts'
import { compareAnswer } from '../../src/engine/questions/compare/compare.ts'
import type { CompareQuestion, LevelSource } from '../../src/engine/questions/compare/compare-terms.ts'
import { planAnswer } from '../../src/engine/questions/plan/plan.ts'
import { planMap } from '../../src/engine/questions/plan/plan-map.ts'
import type { PlanMapQuestion } from '../../src/engine/questions/plan/plan-terms.ts'
import { loadSolvedRig } from '../../src/engine/scene/solved-gear.ts'
import { heardBands } from '../../src/engine/scene/third-octaves.ts'
import { moveCabinet } from '../../src/state/plan-edits.ts'
import { behindId, frontId, placeMicrophones } from '../../src/state/plan-microphones.ts'
import type { Plan, PlanCabinet } from '../../src/state/plan-schema.ts'
import { emptyTest, questionOf, withBoth, writeTest } from '../../src/widgets/compare/kept-test.ts'
import { mapRows, mapSentence } from '../../src/widgets/plan/describe-map.ts'
import { measuredRows, nearnessWords } from '../../src/widgets/plan/describe-measured.ts'
import { grangePlan } from '../../src/widgets/plan/grange-plan.ts'
import { floorMap } from '../../src/widgets/plan/plan-floor-map.ts'
import { offeredBoxes, planKnown, planQuestion } from '../../src/widgets/plan/plan-question.ts'
import { expectAccessible, expectNoSidewaysScroll, longWork } from './page-checks.ts'
import { test } from './test.ts'

const rigs = ['top-over-sub', 'column-on-base', 'compact-two-way'].map((key) => {
  const { short, description, ...rig } = JSON.parse(readFileSync(`content/gear/${key}.json`, 'utf8'))
  return { key, short, description, rig: { name: key, cabinets: rig.cabinets } as Rig }
})
const boxes = offeredBoxes(rigs)
test.beforeAll(() => Promise.all(rigs.map(({ rig }) => loadSolvedRig(rig))))

const sheet = (page: Page) => page.getByRole('region', { name: 'Plan of the hall' })
const group = (page: Page, name: string) => sheet(page).getByRole('group', { name, exact: true }).first()

async function open(page: Page) {
  await page.goto('/plan/')
  await expect(page.locator('astro-island[ssr]')).toHaveCount(0)
  await expect(sheet(page).locator('.who.old')).toHaveCount(0)
}

/** The whole map of a plan by the module, as the page words it. */
async function mapWords(plan: Plan, part: PlanMapQuestion['part']) {
  const { widthM, lengthM } = plan.ground
  const question = { ...planQuestion(plan, boxes), part, heightM: 1.6, floor: { widthM, lengthM } }
  const map = await floorMap(
    {
      ask: async (_, asked) => planMap(asked as PlanMapQuestion) as never,
      progress: () => {},
      show: () => {},
      rest: async () => true,
    },
    question,
    () => false,
  )
  if (!map) throw new Error('the map was stopped')
  return mapSentence(map, question, plan, planKnown(boxes), 'm')
}

test('the map is the module’s: where it is loudest, and its table; it follows a box, and goes away again', async ({
  page,
}) => {
  test.slow()
  await open(page)
  const fields = group(page, 'Where is it loud?')
  await expect(sheet(page).locator('canvas')).toHaveCount(0)
  await fields.getByLabel('map of').selectOption({ label: 'treble' })
  let plan = grangePlan()
  await expect(fields).toContainText(await mapWords(plan, 'treble'), longWork)
  await expect(sheet(page).locator('canvas')).toHaveCount(1)
  const rows = fields.locator('tbody tr')
  for (const [index, row] of mapRows(planAnswer(planQuestion(plan, boxes)), plan, 'treble').entries())
    await expect(rows.nth(index).locator('th, td')).toHaveText(row)

  await sheet(page).getByRole('slider', { name: 'Boxes 1, 2', exact: true }).focus()
  await page.keyboard.press('PageUp')
  plan = moveCabinet(plan, 'c1', { xM: -2.5, zM: 3.5 })
  await expect(fields).toContainText(await mapWords(plan, 'treble'), longWork)
  await expectAccessible(page)
  await expectNoSidewaysScroll(page, [320, 390, 1280])

  await fields.getByLabel('map of').selectOption({ label: 'nothing' })
  await expect(sheet(page).locator('canvas')).toHaveCount(0)
})

test('the two microphones of a kept test: what they measured beside what the plan predicts; one press and undo take them away', async ({
  page,
}) => {
  const levels = (offDb: number): LevelSource => ({
    kind: 'entered',
    levelsDb: heardBands.map(({ nominalHz }) => (nominalHz < 40 ? null : 80 + offDb * Math.log2(nominalHz / 1000))),
  })
  const empty = emptyTest()
  const kept = {
    ...empty,
    steps: { ...empty.steps, sound: withBoth('by hand', levels(0), levels(-2)) },
    setUp: { ...empty.setUp, frontM: 3, behindM: 2 },
  }
  await page.addInitScript(
    (text) => localStorage.getItem('round-the-back.compare') ?? localStorage.setItem('round-the-back.compare', text),
    writeTest(kept),
  )
  await open(page)
  const fields = group(page, 'What did two microphones hear?')
  await expect(fields).toContainText('3 m in front and 2 m behind')
  await fields.getByRole('button', { name: 'Put both microphones into the plan' }).click()

  const plan = placeMicrophones(
    grangePlan(),
    grangePlan().cabinets[0] as PlanCabinet,
    { frontM: 3, behindM: 2, frontHeightM: 1.6, behindHeightM: 1.6 },
    { front: 'Microphone in front', behind: 'Microphone behind' },
  )
  const { places } = planAnswer(planQuestion(plan, boxes))
  const at = (id: string) => places.find((place) => place.id === id)?.levelsDb ?? []
  const predicted = at(behindId).map((levelDb, band) => levelDb - (at(frontId)[band] as number))
  const { bands } = compareAnswer(questionOf(kept, plan.programmeDbA) as CompareQuestion)
  await expect(fields).toContainText(nearnessWords(bands, predicted), longWork)
  for (const [index, row] of measuredRows(bands, predicted).entries())
    await expect(fields.locator('tbody tr').nth(index).locator('th, td')).toHaveText(row)
  await expect(sheet(page).locator('.who tbody tr')).toHaveCount(6)
  await expectAccessible(page)
  await expectNoSidewaysScroll(page, [320, 390, 1280])

  await fields.getByRole('button', { name: 'Take both microphones away' }).click()
  await expect(sheet(page).locator('.who tbody tr')).toHaveCount(4)
  await sheet(page).getByRole('button', { name: 'Undo' }).click()
  await expect(sheet(page).locator('.who tbody tr')).toHaveCount(6)
})

test('a wide drawing has the hall’s lines, those of what was moved last, and on paper all', async ({ page }) => {
  await page.setViewportSize({ width: 1280, height: 900 })
  await open(page)
  const shown = () =>
    sheet(page)
      .locator('.plan svg .line')
      .evaluateAll((all) => all.filter((each) => each.checkVisibility()).length)
  await expect(sheet(page).locator('.plan')).toContainText('18 m long, 4.6 m high')
  await expect.poll(shown).toBe(2)
  await sheet(page).getByRole('slider', { name: 'Bar', exact: true }).focus()
  await page.keyboard.press('ArrowLeft')
  await expect.poll(shown).toBe(3)
  await page.emulateMedia({ media: 'print' })
  await expect.poll(shown).toBeGreaterThan(4)
})
