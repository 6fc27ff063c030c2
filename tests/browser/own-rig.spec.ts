import { expect, type Page } from '@playwright/test'
import { keptSmallRig } from './own-rigs.ts'
import { listen, longWork } from './page-checks.ts'
import { watchWorkers, workersRest } from './slow-worker.ts'
import { test } from './test.ts'

const saved = keptSmallRig('own-my-small-box', 'my small box')
const walk = (page: Page) => page.getByRole('region', { name: 'Walk round a loudspeaker' })
const note = (page: Page) => walk(page).locator('.solving')
const leavesOut = (page: Page) => walk(page).getByText('each cabinet is a hard ball', { exact: false })

async function open(page: Page) {
  await page.goto('/?walk.v=1&walk.rig=own-my-small-box')
  await expect(page.locator('astro-island[ssr]')).toHaveCount(0)
}

test.beforeEach(({ page }) => page.addInitScript((text) => localStorage.setItem('round-the-back.rigs', text), saved))

test('an own rig is drawn at once, then solved step by step, and is there at once on the next visit', async ({
  page,
}) => {
  const heard = listen(page)
  await watchWorkers(page)
  await open(page)
  await expect(note(page)).toContainText(/Solving your rig: \d+ of \d+ steps/)
  await expect(leavesOut(page)).toHaveCount(1)
  const sentence = walk(page).locator('.sentence')
  const first = await sentence.textContent()
  await expect(note(page)).toContainText('Your rig is solved', longWork)
  await expect(leavesOut(page)).toHaveCount(0)
  // The last answer comes a moment after the last step.
  await workersRest(page)
  const solved = (await sentence.textContent()) ?? ''
  expect(solved).not.toBe(first)

  await page.reload()
  await expect(sentence).toHaveText(solved)
  await expect(note(page)).toHaveCount(0)

  // Spoilt on the device: it goes, and the rig is solved anew instead of failing at every visit.
  expect(await eachTable(page, 'spoil')).toBeGreaterThan(0)
  await page.reload()
  await expect(note(page)).toContainText(/Solving your rig: \d+ of \d+ steps/)
  expect(await eachTable(page, 'count')).toBe(0)
  expect(heard).toEqual([])
})

/** Counts the solved cabinets that the device keeps, or takes away from each a line and gives it one that is null. */
const eachTable = (page: Page, deed: 'count' | 'spoil') =>
  page.evaluate(
    (deed) =>
      new Promise<number>((done, fail) => {
        const opening = indexedDB.open('solved-cabinets')
        opening.onerror = () => fail(opening.error)
        opening.onsuccess = () => {
          const tables = opening.result.transaction('tables', 'readwrite').objectStore('tables')
          const all = tables.getAll()
          all.onsuccess = () => {
            if (deed === 'spoil') for (const entry of all.result) tables.put({ ...entry, table: spoilt(entry.table) })
            const counting = tables.count()
            counting.onsuccess = () => {
              opening.result.close()
              done(counting.result)
            }
          }
        }
        const spoilt = (table: { lines: unknown[] }) => ({ ...table, lines: [null, ...table.lines.slice(1)] })
      }),
    deed,
  )

test('a device whose database is silent has nothing kept: the rig is solved all the same', async ({ page }) => {
  await page.addInitScript(() => {
    indexedDB.open = () => ({}) as IDBOpenDBRequest
  })
  await open(page)
  await expect(note(page)).toContainText(/Solving your rig: [1-9]\d* of \d+ steps/)
})

test('solving can be stopped and goes on again; another rig ends it', async ({ page }) => {
  await open(page)
  await walk(page).getByRole('button', { name: 'stop solving' }).click()
  await expect(note(page)).toContainText('Stopped')
  await walk(page).getByRole('button', { name: 'go on solving' }).click()
  await expect(note(page)).toContainText('Solving your rig')
  await walk(page).getByRole('combobox', { name: 'rig', exact: true }).selectOption('compact-two-way')
  await expect(note(page)).toHaveCount(0)
})

for (const { page: name, link } of [
  { page: 'wall-distance', link: 'wall' },
  { page: 'hall-parts', link: 'hall' },
  { page: 'loudness-stack', link: 'stack' },
  { page: 'blind-comparison', link: 'blind' },
]) {
  test(`the figure ${name} takes an own rig and solves it too`, async ({ page }) => {
    const heard = listen(page)
    await page.goto(`/embed/${name}/?${link}.v=1&${link}.rig=own-my-small-box`)
    const figure = page.locator(`.figure.${link}`)
    await expect(figure.getByRole('combobox', { name: 'rig', exact: true })).toHaveValue('own-my-small-box')
    await expect(figure.locator('.solving')).toContainText(/Solving your rig: \d+ of \d+ steps/)
    await figure.getByRole('button', { name: 'stop solving' }).click()
    await expect(figure.locator('.solving')).toContainText('Stopped')
    await expect(figure.locator('.notices p')).toHaveCount(0)
    expect(heard).toEqual([])
  })
}
