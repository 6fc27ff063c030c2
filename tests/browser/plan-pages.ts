import { readFileSync } from 'node:fs'
import { expect, type Page } from '@playwright/test'
import type { Rig } from '../../src/acoustics/index.ts'
import { planAnswer } from '../../src/engine/questions/plan/plan.ts'
import { loadSolvedRig } from '../../src/engine/scene/solved-gear.ts'
import type { Plan } from '../../src/state/plan-schema.ts'
import { placeRows, planSentence } from '../../src/widgets/plan/describe-plan.ts'
import { offeredBoxes, planQuestion } from '../../src/widgets/plan/plan-question.ts'
import { longWork } from './page-checks.ts'

// What the specs of the plan have in common: its parts on the page, and what the module gives for a plan.

const rigs = ['top-over-sub', 'column-on-base', 'compact-two-way'].map((key) => {
  const { short, description, ...rig } = JSON.parse(readFileSync(`content/gear/${key}.json`, 'utf8'))
  return { key, short, description, rig: { name: key, cabinets: rig.cabinets } as Rig }
})
export const boxes = offeredBoxes(rigs)
export const loadRigs = () => Promise.all(rigs.map(({ rig }) => loadSolvedRig(rig)))

export const sheet = (page: Page) => page.getByRole('region', { name: 'Plan of the hall' })
export const handle = (page: Page, name: string) => sheet(page).getByRole('slider', { name, exact: true })
export const field = (page: Page, group: string, name: RegExp | string) =>
  sheet(page).getByRole('group', { name: group, exact: true }).first().getByLabel(name)

export async function open(page: Page, address = '/plan/') {
  await page.goto(address)
  await expect(page.locator('astro-island[ssr]')).toHaveCount(0)
  await expect(sheet(page).locator('.who.old')).toHaveCount(0, longWork)
}

/** Waits until the page tells what the module gives for a plan, all of it: on a busy machine the coarse answer stands for long. */
export async function expectTold(page: Page, plan: Plan) {
  const answer = planAnswer(planQuestion(plan, boxes))
  const rows = placeRows(answer, plan)
  await expect(sheet(page).locator('.sentence')).toHaveText(planSentence(answer, plan), longWork)
  const shown = sheet(page).locator('.who tbody tr')
  await expect(shown).toHaveCount(rows.length)
  for (const [index, row] of rows.entries()) await expect(shown.nth(index).locator('th, td')).toHaveText(row, longWork)
}

/** Has the page copy to where `copied` finds it. To be called before the page opens. */
export const catchCopies = (page: Page) =>
  page.addInitScript(() => {
    const writeText = async (text: string) => {
      document.documentElement.dataset['copied'] = text
    }
    Object.defineProperty(navigator, 'clipboard', { value: { writeText } })
  })

/** What was copied last, or ''. */
export const copied = (page: Page) => page.evaluate(() => document.documentElement.dataset['copied'] ?? '')
