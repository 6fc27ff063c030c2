// The card for the van: what the lessons say, with the numbers of the rig that is chosen, on one sheet of paper.
import { expect, type Page } from '@playwright/test'
import { keptSmallRig } from './own-rigs.ts'
import { expectAccessible, expectNoSidewaysScroll, listen, longWork } from './page-checks.ts'
import { sheets } from './sheets.ts'
import { test } from './test.ts'

const path = '/lessons/card/'
const card = (page: Page) => page.getByRole('region', { name: 'The card for the van' })
const rig = (page: Page) => page.getByRole('combobox', { name: 'rig', exact: true })
const lesson = (page: Page, title: string) =>
  card(page).locator('section', { has: page.getByRole('heading', { name: title }) })
const own = (page: Page, title: string) => lesson(page, title).locator('.own')
const feet = (page: Page) => page.locator('#units-switch')

async function open(page: Page, address = path) {
  await page.goto(address)
  await expect(page.locator('astro-island[ssr]')).toHaveCount(0)
}
/** Waits until the numbers are those of the rig that is chosen. */
const settled = (page: Page, short: string) =>
  expect(card(page).locator('.for-rig:not(.old)')).toContainText(`Numbers in bold are for: ${short}.`)

const plain = (text: string | null) => (text ?? '').replaceAll(/\s+/g, ' ').trim()

for (const units of ['m', 'ft'] as const)
  test(`every step on the card begins a step of its lesson's Do, in ${units}`, async ({ page, context }) => {
    await open(page)
    if (units === 'ft') await feet(page).click()
    const sections = card(page).locator('.lessons > section')
    await expect(sections).toHaveCount(11)
    const read = await context.newPage()
    for (const section of await sections.all()) {
      const steps = (await section.locator('li').allInnerTexts()).map(plain)
      expect(steps.length).toBeGreaterThanOrEqual(4)
      const address = (await section.locator('h2 a').getAttribute('href')) ?? ''
      await read.goto(address)
      const said = await read.locator('#do ~ ol > li').allInnerTexts()
      expect(said.length, address).toBe(steps.length)
      for (const [index, step] of steps.entries()) {
        const whole = plain(said[index] ?? '').replaceAll(/ (?=[.,:;])/g, '')
        expect(whole.startsWith(step), `${address}, step ${index + 1}: “${step}”, and the lesson says “${whole}”`).toBe(
          true,
        )
      }
    }
  })

test('it is one sheet of paper for every rig, in metres and in feet, and nothing on it waits for a hand', async ({
  page,
}) => {
  await open(page)
  for (const press of [false, true]) {
    if (press) await feet(page).click()
    for (const [key, short] of [
      ['top-over-sub', 'Top over sub'],
      ['column-on-base', 'Column on base'],
      ['compact-two-way', 'Compact two-way'],
    ] as const) {
      await rig(page).selectOption(key)
      await settled(page, short)
      for (const format of ['A4', 'Letter'] as const) expect(await sheets(page, format), `${key} ${format}`).toBe(1)
    }
  }
  await page.emulateMedia({ media: 'print' })
  await expect(card(page).locator('.caution')).toBeVisible()
  const live = page.locator('main :is(button, input, select, [role=status])')
  const seen = live.evaluateAll((found) => found.filter((each) => each.checkVisibility()).map((each) => each.outerHTML))
  expect(await seen).toEqual([])
})

test('the numbers are those of the rig, in the reader’s lengths, and of the air that is set', async ({ page }) => {
  const heard = listen(page)
  await open(page)
  await settled(page, 'Top over sub')
  // As lesson 8 and lesson 3 tell them for the same rig.
  await expect(own(page, 'Bass that takes sides')).toContainText(/fronts 1\.35\sm apart .*3\.9\sms late and inverted/)
  await expect(own(page, 'What a horn holds').first()).toContainText(/90° left to right, mouth 26\scm/)
  await expect(own(page, 'Tall and thin')).toContainText('No row of drivers')
  await feet(page).click()
  await expect(own(page, 'Bass that takes sides')).toContainText(/fronts 4\sft 5\sin apart/)
  await rig(page).selectOption('column-on-base')
  await settled(page, 'Column on base')
  await expect(own(page, 'Tall and thin')).toContainText('Row of 8')
  await expect(own(page, 'What a horn holds')).toHaveText('No horn in this rig.')
  await expect(page).toHaveURL(/card\.rig=column-on-base/)
  await page.reload()
  await settled(page, 'Column on base')
  const usual = await own(page, 'The wall joins in').last().textContent()
  await page.goto(`${path}?card.v=1&card.rig=column-on-base&air=40,50`)
  await settled(page, 'Column on base')
  await expect(own(page, 'The wall joins in').last()).not.toHaveText(usual ?? '')
  expect(heard).toEqual([])
})

test('a rig saved on this device is on offer; it is a first estimate until it is solved', async ({ page }) => {
  const text = keptSmallRig('own-our-small-one', 'our small one')
  await page.addInitScript((rigs) => localStorage.setItem('round-the-back.rigs', rigs), text)
  await open(page)
  await rig(page).selectOption('My rig: our small one')
  await settled(page, 'My rig: our small one')
  await expect(own(page, 'Small box, long wave')).toContainText(/20\scm wide: rear 6\sdB down at/)
  await expect(own(page, 'Small box, long wave')).not.toContainText('first estimate', longWork)
  await expect(page.locator('.solving')).toContainText('Your rig is solved', longWork)
  expect(await sheets(page)).toBe(1)
  // Gone on another device: the link says so, and the card is there for the first rig.
  await page.goto(`${path}?card.v=1&card.rig=own-somebody-elses`)
  await settled(page, 'Top over sub')
  await expect(card(page).getByRole('status').first()).toContainText('saved on')
})

test('it is accessible, and within the screen from the narrowest phone on', async ({ page }) => {
  await open(page)
  await settled(page, 'Top over sub')
  await expectAccessible(page)
  await expectNoSidewaysScroll(page, [320, 390, 820, 1280])
})

test.describe('without JavaScript', () => {
  test.use({ javaScriptEnabled: false })
  test('it reads and prints with the numbers of the demo rig, and says so', async ({ page }) => {
    await page.goto(path)
    await expect(page.locator('.without-script')).toBeVisible()
    await expect(own(page, 'Bass that takes sides')).toContainText(/fronts 1\.35\sm apart/)
  })
})
