import { writeFileSync } from 'node:fs'
import { expect, type Page } from '@playwright/test'
import { decode } from 'fast-png'
import jsQR from 'jsqr'
import { enclosedIn } from '../../src/state/enclosed-text.ts'
import { type Enclosure, readEnclosure, writeEnclosure } from '../../src/state/enclosure.ts'
import { changeCabinet, movePlace } from '../../src/state/plan-edits.ts'
import type { Plan, PlanCabinet } from '../../src/state/plan-schema.ts'
import { noWords } from '../../src/state/sender.ts'
import { grangePlan } from '../../src/widgets/plan/grange-plan.ts'
import { expectAccessible, expectNoSidewaysScroll, listen } from './page-checks.ts'
import { catchCopies, copied, expectTold, handle, loadRigs, open, sheet } from './plan-pages.ts'
import { anotherReader, test } from './test.ts'

test.beforeAll(loadRigs)

const from = { name: 'Deck crew', reach: 'deck@tidewater.example', note: 'Load in at four.' }
const theirs = { ...changeCabinet(grangePlan(), 'c2', { delayMs: 4.5, inverted: true }), name: 'Harvest dance' }
const linkWith = (plan: unknown, words = from) =>
  `/plan/#figure-plan&with=${writeEnclosure({ from: words, rigs: [], plan })}`
const kept = (page: Page) => page.evaluate(() => localStorage.getItem('round-the-back.plan'))
const send = (page: Page) => sheet(page).locator('.send-plan')

test('a plan goes by link to a device that keeps none: as it was, with the sender’s words said to be theirs', async ({
  page,
  browser,
}) => {
  const heard = listen(page)
  await catchCopies(page)
  await open(page)
  await handle(page, 'Band').focus()
  await page.keyboard.press('PageUp')
  const moved = movePlace(grangePlan(), 'p3', { xM: 1.3, zM: 2.7 })
  await expectTold(page, moved)
  await send(page).locator('summary').first().click()
  await send(page).getByText('your name and a note').click()
  await send(page)
    .getByLabel(/^Your name/)
    .fill(from.name)
  await send(page)
    .getByLabel(/^A note/)
    .fill('<b>Load</b> in at four.')
  await expect(send(page)).toContainText('with this plan in it')
  await send(page).getByRole('button', { name: 'copy the link' }).click()
  await expect(send(page)).toContainText('Link copied')
  const link = await copied(page)
  expect((readEnclosure(enclosedIn(new URL(link).hash)) as Enclosure).plan).toEqual(moved)

  const other = await (await anotherReader(browser)).newPage()
  const { pathname, hash } = new URL(link)
  await open(other, new URL(pathname + hash, page.url()).href)
  await expectTold(other, moved)
  const words = other.getByRole('complementary', { name: 'Added by who sent you this' })
  await expect(words).toContainText('Deck crew')
  await expect(words).toContainText('<b>Load</b> in at four.')
  // It is shown, and kept once something is changed.
  expect(await kept(other)).toBeNull()
  await expect(sheet(other).locator('.told.old')).toHaveCount(0)
  await expectAccessible(other)
  await other.close()
  expect(heard).toEqual([])
})

test('a link never takes the place of a kept plan by itself: yours stays, theirs opens when asked, undo brings yours back', async ({
  page,
}) => {
  await open(page)
  await handle(page, 'Band').focus()
  await page.keyboard.press('PageUp')
  const mine = movePlace(grangePlan(), 'p3', { xM: 1.3, zM: 2.7 })
  await expectTold(page, mine)
  await expect.poll(() => kept(page)).toContain('2.7')
  const text = await kept(page)

  await page.goto('about:blank')
  await open(page, linkWith(theirs))
  const asks = sheet(page).locator('.sent')
  await expect(asks).toContainText('“Harvest dance”, 4 boxes, 4 places')
  await expectTold(page, mine)
  expect(await kept(page)).toBe(text)
  await expectNoSidewaysScroll(page, [390, 1280])
  await asks.getByRole('button', { name: 'Keep mine' }).click()
  await expect(asks).toHaveCount(0)
  expect(new URL(page.url()).hash).toBe('#figure-plan')
  expect(await kept(page)).toBe(text)

  await page.goto('about:blank')
  await open(page, linkWith(theirs))
  await asks.getByRole('button', { name: /Open it/ }).click()
  await expectTold(page, theirs)
  await expect.poll(() => kept(page)).toContain('Harvest dance')
  await sheet(page).getByRole('button', { name: 'Undo' }).click()
  await expectTold(page, mine)
  // The same plan; the order of its fields is that of the link.
  await expect.poll(async () => JSON.parse((await kept(page)) ?? '')).toEqual(JSON.parse(text ?? ''))
  await page.reload()
  await expect(asks).toHaveCount(0)
  await expectTold(page, mine)
})

test('links that are not right: a sentence, the plan stays, nothing is lost', async ({ page }) => {
  const first = grangePlan().cabinets[0] as PlanCabinet
  const bad: [string, RegExp][] = [
    [linkWith({ ...theirs, version: 7 }), /not opened, yours stays: A newer version/],
    [linkWith({ version: 1, rigs: [] }), /another kind/],
    [linkWith({ ...theirs, cabinets: Array.from({ length: 1000 }, () => first) }), /24 are the most/],
    [linkWith(movePlace(theirs, 'p1', { xM: -2.5, zM: 2.9 })), /would be inside box/],
    [linkWith({ ...theirs, ground: { ...theirs.ground, heightM: 0 } }), /no volume/],
    [`${linkWith(theirs).slice(0, -9)}`, /lost or changed on its way/],
    ['/plan/#with=9.AAAA', /newer version of this site/],
  ]
  for (const [address, words] of bad) {
    await page.goto('about:blank')
    await open(page, address)
    await expect(page.locator('main')).toContainText(words)
    await expectTold(page, grangePlan())
    expect(await kept(page)).toBeNull()
  }
})

test('a plan that is too long for a link is offered as a file, and the sheet says so', async ({ page }) => {
  const first = grangePlan().cabinets[0] as PlanCabinet
  const long: Plan = {
    ...grangePlan(),
    cabinets: Array.from({ length: 24 }, (_, i) => ({
      ...first,
      id: `c${i + 1}`,
      group: '',
      xM: -4 + Math.abs(Math.sin(7 * i + 1)) * 8,
      zM: 4 + Math.abs(Math.cos(5 * i + 2)) * 3,
      delayMs: Math.abs(Math.sin(i + 0.3)) * 9,
      levelDb: -Math.abs(Math.cos(i + 0.7)) * 9,
      yawDeg: Math.sin(3 * i) * 20,
    })),
  }
  await page.addInitScript((text) => localStorage.setItem('round-the-back.plan', text), JSON.stringify(long))
  await open(page)
  await send(page).locator('summary').first().click()
  await expect(send(page)).toContainText(/longer than 2,?000 characters/)
  const download = page.waitForEvent('download')
  await send(page).getByRole('button', { name: 'save the plan as a file' }).click()
  expect((await download).suggestedFilename()).toBe('plan.json')
  await page.emulateMedia({ media: 'print' })
  await expect(sheet(page).locator('.sheet-link')).toContainText('too long for a link')
})

test('the printed sheet is one page of A4 and of letter, with its link, a QR code of it, the crew and their note', async ({
  page,
}) => {
  const named: Plan = { ...grangePlan(), crew: 'Deck crew', note: 'Mind the step at the stage door.' }
  await page.addInitScript((text) => localStorage.setItem('round-the-back.plan', text), JSON.stringify(named))
  await open(page)
  await expect(sheet(page).locator('.sheet-link')).toBeAttached()
  for (const format of ['A4', 'Letter'] as const) {
    const pdf = await page.pdf({ format, preferCSSPageSize: false, printBackground: true })
    writeFileSync(test.info().outputPath(`sheet-${format}.pdf`), pdf)
    expect(pdf.toString('latin1').match(/\/Type\s*\/Page\b(?!s)/g)?.length, format).toBe(1)
  }
  await page.emulateMedia({ media: 'print' })
  await page.evaluate(() => dispatchEvent(new Event('beforeprint')))
  await expect(sheet(page)).toContainText('Deck crew')
  await expect(sheet(page)).toContainText('Mind the step at the stage door.')
  await expect(sheet(page).getByText('Ask a licensed person', { exact: false })).toBeVisible()
  const link = (await sheet(page).locator('.sheet-link .link').textContent()) ?? ''
  expect((readEnclosure(enclosedIn(new URL(link).hash)) as Enclosure).plan).toEqual(named)
  await page.setViewportSize({ width: 1280, height: 1400 })
  const { data, width, height, channels } = decode(
    await sheet(page).locator('.qr-picture').screenshot({ scale: 'device' }),
  )
  const rgba = new Uint8ClampedArray(width * height * 4).fill(255)
  for (let i = 0; i < width * height; i++) for (let c = 0; c < 3; c++) rgba[4 * i + c] = data[channels * i + c] ?? 255
  expect(jsQR(rgba, width, height)?.data).toBe(link)
})

test('twelve boxes and eight places still print on one page', async ({ page }) => {
  const { cabinets, places, ...rest } = grangePlan()
  const crowded: Plan = {
    ...rest,
    crew: 'Deck crew',
    note: 'Mind the step at the stage door. '.repeat(6).trim(),
    cabinets: Array.from({ length: 12 }, (_, i) => ({
      ...(cabinets[1] as PlanCabinet),
      id: `c${i + 1}`,
      group: '',
      xM: -4.6 + 0.8 * i,
      delayMs: i / 4,
    })),
    places: [
      ...places,
      ...[1, 2, 3, 4].map((n) => ({ id: `p${n + 4}`, name: `Bench ${n}`, xM: n - 2, zM: 13, earM: 1.2 })),
    ],
  }
  await page.addInitScript((text) => localStorage.setItem('round-the-back.plan', text), JSON.stringify(crowded))
  await open(page)
  await expect(sheet(page).locator('.sheet-link')).toBeAttached()
  for (const format of ['A4', 'Letter'] as const) {
    const pdf = await page.pdf({ format, preferCSSPageSize: false, printBackground: true })
    writeFileSync(test.info().outputPath(`crowded-${format}.pdf`), pdf)
    expect(pdf.toString('latin1').match(/\/Type\s*\/Page\b(?!s)/g)?.length, format).toBe(1)
  }
})

test('a device that keeps nothing says so, and the plan goes on', async ({ page }) => {
  await page.addInitScript(() => {
    Storage.prototype.setItem = () => {
      throw new DOMException('full', 'QuotaExceededError')
    }
  })
  await open(page)
  await handle(page, 'Band').focus()
  await page.keyboard.press('PageUp')
  await expect(sheet(page)).toContainText('did not keep the plan')
  const moved = movePlace(grangePlan(), 'p3', { xM: 1.3, zM: 2.7 })
  await expectTold(page, moved)
  await send(page).locator('summary').first().click()
  await expect(send(page)).toContainText('with this plan in it')
})

test('a device that refuses even to be asked: the page works, and says that nothing is kept', async ({ page }) => {
  await page.addInitScript(() => {
    Object.defineProperty(window, 'localStorage', {
      get: () => {
        throw new DOMException('refused', 'SecurityError')
      },
    })
  })
  await open(page, linkWith(theirs, noWords))
  await expectTold(page, theirs)
  await handle(page, 'Band').focus()
  await page.keyboard.press('PageUp')
  await expect(sheet(page)).toContainText('did not keep the plan')
})
