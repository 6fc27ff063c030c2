import { type BrowserContext, expect, type Page } from '@playwright/test'
import { matchedTonesKey } from '../../src/widgets/equal-loudness/matched-tones.ts'
import { test } from './test.ts'

/** Two tabs of one device on the same page, both awake. */
async function tabs(context: BrowserContext, path: string): Promise<[Page, Page]> {
  const both: [Page, Page] = [await context.newPage(), await context.newPage()]
  for (const page of both) {
    await page.goto(path)
    // Some wait until they are seen.
    for (const figure of await page.locator('.figure').all()) await figure.scrollIntoViewIfNeeded()
    await expect(page.locator('astro-island[ssr]')).toHaveCount(0)
  }
  return both
}

/** Saves the box of the form under twenty names, as fast as the page lets it. */
const saveTwenty = (page: Page, name: string) =>
  page.evaluate(async (name) => {
    const form = document.querySelector<HTMLFormElement>('.saved form') as HTMLFormElement
    const field = form.querySelector('input') as HTMLInputElement
    const note = document.querySelector('.saved [role="status"]') as HTMLElement
    for (let count = 1; count <= 20; count++) {
      field.value = `${name} ${count}`
      field.dispatchEvent(new Event('input', { bubbles: true }))
      form.requestSubmit()
      while (!note.textContent?.includes(`“${name} ${count}”`)) await new Promise((done) => setTimeout(done))
    }
  }, name)

test('two tabs that save twenty rigs each at the same time lose none, and each shows all forty', async ({
  context,
}) => {
  const [one, other] = await tabs(context, '/embed/own-box/')
  await Promise.all([saveTwenty(one, 'left'), saveTwenty(other, 'right')])
  for (const page of [one, other]) await expect(page.locator('.saved li')).toHaveCount(40)
  const names = await one.locator('.saved li strong').allTextContents()
  const twenty = (name: string) => Array.from({ length: 20 }, (_, index) => `${name} ${index + 1}`)
  expect(names.sort()).toEqual([...twenty('left'), ...twenty('right')].sort())
})

test('a rig that is saved in one tab is on offer in the figures of the other, and stays while it is shown', async ({
  context,
}) => {
  const [figure] = await tabs(context, '/embed/walk-round/')
  const [box, another] = await tabs(context, '/embed/own-box/')
  await box.getByLabel('name of this box').fill('our small one')
  await box.getByRole('button', { name: 'save as my rig' }).click()
  const rig = figure.getByRole('combobox', { name: 'rig', exact: true })
  await rig.selectOption('My rig: our small one')
  // Deleted in a third tab, it is gone from the list of the second, not from under the reader of the first.
  await another.getByRole('button', { name: 'delete our small one' }).click()
  await another.getByRole('button', { name: 'press again to delete our small one' }).click()
  await expect(box.locator('.saved li')).toHaveCount(0)
  await expect(rig).toHaveValue('own-our-small-one')
  await rig.selectOption('compact-two-way')
  await expect(rig).toHaveValue('compact-two-way')
})

test('tones that are matched in two tabs are all kept, and each tab shows them', async ({ context }) => {
  const [one, other] = await tabs(context, '/embed/equal-loudness/')
  const match = (page: Page) => page.getByRole('region', { name: 'Match tones by ear' })
  await match(one).getByRole('button', { name: '250 Hz' }).click()
  await match(one).getByRole('button', { name: 'keep it' }).click()
  await expect(match(other).getByRole('button', { name: /^250 Hz.*matched/ })).toBeVisible()
  await match(other).getByRole('button', { name: '63 Hz' }).click()
  await match(other).getByRole('button', { name: 'keep it' }).click()
  await expect(match(one).getByRole('button', { name: /^63 Hz.*matched/ })).toBeVisible()
  const kept = await one.evaluate((key) => JSON.parse(localStorage.getItem(key) ?? '{}'), matchedTonesKey)
  expect(kept.tones.map(({ frequencyHz }: { frequencyHz: number }) => frequencyHz).sort()).toEqual([250, 63])
  await match(one).getByRole('button', { name: 'clear all' }).click()
  await expect(match(other).locator('.sentence')).toContainText('Nothing matched yet')
})
