import { expect, type Locator, type Page } from '@playwright/test'
import type { Rig } from '../../src/acoustics/index.ts'
import { enclosedIn } from '../../src/state/enclosed-text.ts'
import { type Enclosure, readEnclosure } from '../../src/state/enclosure.ts'
import type { Plan } from '../../src/state/plan-schema.ts'
import { grangePlan } from '../../src/widgets/plan/grange-plan.ts'
import { listen, longWork } from './page-checks.ts'
import { catchCopies, copied, field, open, sheet } from './plan-pages.ts'
import { watchWorkers, workersRest } from './slow-worker.ts'
import { anotherReader, test } from './test.ts'

const rig: Rig = {
  name: 'my small box',
  cabinets: [
    {
      name: 'own box',
      widthM: 0.2,
      heightM: 0.3,
      depthM: 0.2,
      frontCentre: { xM: 0, yM: 1.6, zM: 0 },
      ways: [{ name: 'drivers', drivers: [{ kind: 'piston', radiusM: 0.06, xM: 0.02, yM: 0 }] }],
    },
  ],
}
const rigs = JSON.stringify({ version: 1, rigs: [{ key: 'own-my-small-box', name: 'my small box', rig }] })
const keepRigs = (page: Page) =>
  page.addInitScript((text) => {
    if (sessionStorage.getItem('seeded') === null) localStorage.setItem('round-the-back.rigs', text)
    sessionStorage.setItem('seeded', 'yes')
  }, rigs)
const kept = (page: Page) =>
  page.evaluate(() => JSON.parse(localStorage.getItem('round-the-back.plan') ?? 'null') as Plan | null)
const solving = (page: Page) => sheet(page).locator('.solving')
const box = (figure: Locator, name: string) => figure.getByRole('combobox', { name, exact: true })
const setting = (page: Page) => sheet(page).getByRole('region', { name: 'Setting sheet' }).locator('tbody tr')

async function addOwn(page: Page) {
  await field(page, 'What stands where?', 'new box').last().selectOption({ label: 'My box: my small box' })
  await sheet(page).getByRole('button', { name: 'Add this box' }).click()
  await expect(setting(page).last()).toContainText('My box: my small box')
}

test('a box of the reader’s own stands in the plan at once, is solved, and stays when it is deleted here', async ({
  page,
}) => {
  const heard = listen(page)
  await watchWorkers(page)
  await keepRigs(page)
  await open(page)
  await addOwn(page)
  await expect(solving(page)).toContainText(/Solving your rig: \d+ of \d+ steps/)
  await expect(solving(page)).toContainText('Your rig is solved', longWork)
  await workersRest(page)
  // The last answer comes a moment after the last step.
  await expect(sheet(page).locator('.told.old')).toHaveCount(0, longWork)
  const rows = sheet(page).locator('.who tbody tr')
  const solved = await rows.allTextContents()
  await expect.poll(async () => (await kept(page))?.ownBoxes.length).toBe(1)

  // Gone from this device: the plan holds the design, and the solution is there at once.
  await page.evaluate(() => localStorage.removeItem('round-the-back.rigs'))
  await page.reload()
  await expect(setting(page).last()).toContainText('My box: my small box')
  await expect(rows).toHaveText(solved, longWork)
  const options = field(page, 'What stands where?', 'new box').last().locator('option')
  await expect(options.filter({ hasText: 'My box' })).toHaveCount(0)
  expect(heard).toEqual([])
})

test('solving is stopped and goes on; the box is in the file and in the link of the sheet', async ({
  page,
  browser,
}) => {
  await keepRigs(page)
  await open(page)
  await addOwn(page)
  await solving(page).getByRole('button', { name: 'stop solving' }).click()
  await expect(solving(page)).toContainText('Stopped')
  await solving(page).getByRole('button', { name: 'go on solving' }).click()
  await expect(solving(page)).toContainText(/Solving your rig|Your rig is solved/)
  await expect.poll(async () => (await kept(page))?.ownBoxes[0]?.key).toBe('own-my-small-box/own box')
  const plan = (await kept(page)) as Plan
  const shown = sheet(page).locator('.sheet-link .link')
  await expect
    .poll(async () => {
      const read = readEnclosure(enclosedIn(new URL((await shown.textContent()) ?? '').hash)) as Enclosure
      return (read.plan as Plan).ownBoxes.length
    })
    .toBe(1)
  const link = new URL((await shown.textContent()) ?? '')
  expect((readEnclosure(enclosedIn(link.hash)) as Enclosure).plan).toEqual(plan)

  const other = await (await anotherReader(browser)).newPage()
  await other.goto(new URL(link.pathname + link.hash, page.url()).href)
  await expect(other.locator('#figure-plan')).toContainText('5 boxes')
  await expect(setting(other).last()).toContainText('My box: my small box')
  await other.close()
})

test('a box that cannot be solved says so, and the plan goes on with the hard ball', async ({ page }) => {
  await keepRigs(page)
  await page.route(/solve-rig|solved-store/, (route) => route.abort())
  await open(page)
  await addOwn(page)
  await expect(solving(page)).toContainText('could not be solved', longWork)
  await expect(sheet(page).locator('.who.old')).toHaveCount(0)
})

test('the hall of a plan is kept under a name, and taken into the next plan', async ({ page }) => {
  await open(page)
  await field(page, 'What is round them?', 'length').fill('21')
  await page.keyboard.press('Enter')
  const halls = sheet(page).locator('.halls')
  await halls.getByLabel('name of this hall').fill('Orchard barn')
  await halls.getByRole('button', { name: 'keep it as my hall' }).click()
  await expect(halls).toContainText('Kept on this device as “Orchard barn”')
  await sheet(page).getByRole('button', { name: 'Begin with Tidewater Grange again' }).click()
  await expect(field(page, 'What is round them?', 'length')).toHaveValue(/18/)
  await halls.getByRole('button', { name: /use it here/ }).click()
  await expect(field(page, 'What is round them?', 'length')).toHaveValue(/21/)
  await sheet(page).getByRole('button', { name: 'Undo' }).click()
  await expect(field(page, 'What is round them?', 'length')).toHaveValue(/18/)
  await halls.getByRole('button', { name: /^delete/ }).click()
  await halls.getByRole('button', { name: /press again/ }).click()
  await expect(halls).toContainText('Deleted “Orchard barn”')
})

test.describe('a hall of the reader’s own elsewhere', () => {
  const { ground } = grangePlan()
  const barn = {
    ground: { ...ground, lengthM: 21 },
    rigAt: { xM: -2.5, zM: 3 },
    places: [
      { name: 'Dance floor', xM: 1.3, zM: 9 },
      { name: 'Quiet table', xM: -2.5, zM: 0.6 },
    ],
  }
  const lawn = { ...barn, ground: { kind: 'outdoors', lengthM: 20, widthM: 12, ground: 'grass' } }
  const halls = JSON.stringify({
    version: 1,
    halls: [
      { key: 'own-orchard-barn', name: 'Orchard barn', hall: barn },
      { key: 'own-lawn', name: 'Lawn', hall: lawn },
    ],
  })
  test.beforeEach(({ page }) =>
    page.addInitScript((text) => {
      if (sessionStorage.getItem('seeded') === null) localStorage.setItem('round-the-back.halls', text)
      sessionStorage.setItem('seeded', 'yes')
    }, halls),
  )

  test('the walk-round offers it, with its places, and ground in the open; a link brings it to another device', async ({
    page,
    browser,
  }) => {
    const heard = listen(page)
    await catchCopies(page)
    await page.goto('/?walk.v=1&walk.surroundings=hall&walk.hall=own-orchard-barn')
    await expect(page.locator('astro-island[ssr]')).toHaveCount(0)
    const walk = page.getByRole('region', { name: 'Walk round a loudspeaker' })
    await expect(walk.locator('.said.old')).toHaveCount(0, longWork)
    await expect(box(walk, 'the hall').locator('option:checked')).toHaveText('My hall: Orchard barn')
    await box(walk, 'you stand at').selectOption({ label: 'Quiet table' })
    await expect(box(walk, 'you stand at').locator('option:checked')).toHaveText('Quiet table')
    await expect(walk.locator('.said.old')).toHaveCount(0, longWork)
    // The sentence on what the hall does is fetched when a hall is chosen.
    await expect(walk.locator('.said')).toContainText('hall', longWork)
    const told = (await walk.locator('.said').textContent()) ?? ''
    await walk.getByText('send', { exact: true }).click()
    await walk.getByRole('button', { name: 'copy the link' }).click()
    await expect(walk).toContainText('The hall “Orchard barn” travels in the link')
    await expect.poll(() => copied(page)).not.toBe('')
    const link = new URL(await copied(page))

    const other = await (await anotherReader(browser)).newPage()
    await other.goto(new URL(link.pathname + link.search + link.hash, page.url()).href)
    const theirs = other.getByRole('region', { name: 'Walk round a loudspeaker' })
    await expect(theirs.locator('.said')).toHaveText(told, longWork)
    await other.getByRole('button', { name: 'keep it on this device' }).click()
    await expect(other.locator('.received')).toContainText('figures with a hall offer it')
    await other.close()

    await box(walk, 'the hall').selectOption({ label: 'My hall: Lawn' })
    await expect(walk).toContainText('Flat ground without end, grass', longWork)
    expect(heard).toEqual([])
  })

  test('the hall’s figure offers it with its places; ground in the open is none for it; deleted, it stays while shown', async ({
    page,
  }) => {
    await page.goto('/embed/hall-parts/')
    await expect(page.locator('astro-island[ssr]')).toHaveCount(0)
    const hall = page.getByRole('region', { name: 'A loudspeaker in a hall' })
    const choice = box(hall, 'the hall')
    await expect(choice.locator('option').filter({ hasText: 'Lawn' })).toHaveCount(0)
    await choice.selectOption({ label: 'My hall: Orchard barn' })
    await expect(hall.locator('.words')).toContainText(
      'A box-shaped hall, 21 m × 11 m × 4.6 m. “Orchard barn” is your own',
      longWork,
    )
    await expect(box(hall, 'you stand at').locator('option:checked')).toHaveText('Quiet table')
    await page.evaluate(() => {
      localStorage.removeItem('round-the-back.halls')
      dispatchEvent(new StorageEvent('storage', { key: 'round-the-back.halls' }))
    })
    await expect(choice.locator('option:checked')).toHaveText('My hall: Orchard barn')
    await page.reload()
    await expect(page.locator('main')).toContainText(
      'somebody’s own hall, which is saved on another device or was deleted',
    )
  })

  test('steered bass offers it: both places are the plan’s', async ({ page }) => {
    await page.goto('/embed/steer-the-bass/')
    await expect(page.locator('astro-island[ssr]')).toHaveCount(0)
    const steer = page.locator('#figure-steer')
    await box(steer, 'surroundings').selectOption({ label: 'My hall: Orchard barn' })
    await expect.poll(() => new URL(page.url()).searchParams.get('steer.hall')).toBe('own-orchard-barn')
    const { searchParams } = new URL(page.url())
    expect(Number(searchParams.get('steer.frontZM'))).toBeCloseTo(6, 1)
    expect(Number(searchParams.get('steer.tableZM'))).toBeCloseTo(-2.4, 1)
    await expect(steer.locator('.sentence.old')).toHaveCount(0, longWork)
    await box(steer, 'surroundings').selectOption({ label: 'My hall: Lawn' })
    await expect(steer.locator('.change summary').first()).toContainText('outdoors on grass')
  })
})
