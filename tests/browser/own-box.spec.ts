import { readFileSync } from 'node:fs'
import { join } from 'node:path'
import { expect, type Page } from '@playwright/test'
import { ownBoxBand } from '../../src/engine/questions/own-box/own-box.ts'
import { type OwnBoxBand, ownBoxBands, wrapAnswer } from '../../src/engine/questions/own-box/own-box-terms.ts'
import { type BoxDesign, boxOfDesign, designOfCabinet, rigOfDesign } from '../../src/widgets/own-box/box-design.ts'
import { portSentence, wrapSentence, wrapTitle } from '../../src/widgets/own-box/describe-own-box.ts'
import { expectAccessible, expectNoSidewaysScroll, listen, longWork } from './page-checks.ts'
import { anotherReader, test } from './test.ts'

const gear = JSON.parse(readFileSync(join(import.meta.dirname, '../../content/gear/top-over-sub.json'), 'utf8'))
const top = designOfCabinet(gear.cabinets[0]) as BoxDesign

const solved = new Map<string, OwnBoxBand[]>()

/** What the acoustics module says of a box once every band is solved; a box is solved once, for it takes seconds. */
function expectedWrap(design: BoxDesign) {
  const box = boxOfDesign(design)
  const key = JSON.stringify(box)
  const bands = solved.get(key) ?? ownBoxBands.map(({ nominalHz }) => ownBoxBand({ box, nominalHz, solved: true }))
  solved.set(key, bands)
  return { wrap: wrapAnswer(bands, design.widthM), bands }
}

const own = (page: Page) => page.getByRole('region', { name: 'Your own box' })
const finding = (page: Page) => own(page).locator('.finding')
const sentence = (page: Page) => own(page).locator('.sentence')
const count = (page: Page) => own(page).locator('.count')
const field = (page: Page, label: string) => own(page).getByRole('textbox', { name: label, exact: true })
const errorOf = (page: Page, label: string) =>
  page.locator('.field', { has: page.getByRole('textbox', { name: label, exact: true }) }).locator('.error')
const allSolved = (page: Page) => expect(count(page)).toContainText('All 19 bands solved', longWork)

async function open(page: Page, query = '') {
  await page.goto(`/own-box/${query}`)
  await expect(page.locator('astro-island[ssr]')).toHaveCount(0)
}

test('the first state is the demo top, solved when the page was built, and asks for no computation', async ({
  page,
}) => {
  const workers: string[] = []
  page.on('worker', (worker) => workers.push(worker.url()))
  await open(page)
  const { wrap, bands } = expectedWrap(top)
  await expect(finding(page)).toHaveText(wrapTitle(wrap))
  await expect(sentence(page)).toHaveText(wrapSentence(wrap))
  await allSolved(page)
  await own(page).locator('.words summary', { hasText: 'table' }).click()
  const row = page.getByRole('row', { name: /^500 / })
  const at500 = bands[12]
  await expect(row.getByRole('cell').nth(3)).toHaveText((at500?.rearDb ?? Number.NaN).toFixed(1).replace('-', '−'))
  await expect(row.getByRole('cell').nth(5)).toHaveText(
    (at500?.directivityIndexDb ?? Number.NaN).toFixed(1).replace('-', '−'),
  )
  expect(workers).toEqual([])
})

test('another box: a first picture from the hard ball, then band after band is solved, to the module’s values', async ({
  page,
}) => {
  const heard = listen(page)
  await open(page)
  await page.evaluate(() => {
    const seen: string[] = []
    Object.assign(window, { seen })
    const shown = document.querySelector('.count') as HTMLElement
    new MutationObserver(() => seen.push(shown.textContent ?? '')).observe(shown, {
      characterData: true,
      childList: true,
      subtree: true,
    })
  })
  await field(page, 'width (m)').fill('0.4')
  await expect(count(page)).toContainText('of 19 bands solved')
  await expect(page.getByRole('progressbar', { name: 'Bands solved' })).toBeVisible()
  await allSolved(page)
  await expect(page.getByRole('progressbar', { name: 'Bands solved' })).toHaveCount(0)
  const seen = await page.evaluate(() => (window as unknown as { seen: string[] }).seen)
  const counts = seen.map((text) => Number(/^(?:All )?(\d+)/.exec(text)?.[1]))
  expect(counts[0]).toBe(0)
  expect(new Set(counts).size).toBeGreaterThan(2)
  expect(counts).toEqual([...counts].sort((a, b) => a - b))
  const { wrap } = expectedWrap({ ...top, widthM: 0.4 })
  await expect(sentence(page)).toHaveText(wrapSentence(wrap))
  expect(heard).toEqual([])
})

test('a change in the middle of solving ends it: the last box is the one that is solved', async ({ page }) => {
  await open(page)
  await field(page, 'width (m)').fill('0.6')
  await expect(count(page)).toContainText(/^[1-9]\d* of 19/)
  await field(page, 'width (m)').fill('0.4')
  await expect(count(page)).toContainText(/^0 of 19/)
  await allSolved(page)
  const { wrap } = expectedWrap({ ...top, widthM: 0.4 })
  await expect(sentence(page)).toHaveText(wrapSentence(wrap))
  await field(page, 'width (m)').fill('0.32')
  await allSolved(page)
  await expect(sentence(page)).toHaveText(wrapSentence(expectedWrap(top).wrap))
})

test('bad input: the field says what is wrong and what is allowed, and the last good picture stays', async ({
  page,
}) => {
  const heard = listen(page)
  await open(page)
  const before = await sentence(page).textContent()
  const picture = () => own(page).locator('.response svg').innerHTML()
  const drawn = await picture()
  for (const [text, said] of [
    ['0', 'Zero. Allowed: 0.05 m to 2 m.'],
    ['-1', 'Below zero.'],
    ['1000000', 'Too large.'],
    ['1e999', 'Not a length that this page can read.'],
    ['NaN', 'Not a length'],
    ['', 'Not a length'],
    ['<b>3</b>', 'Not a length'],
  ] as const) {
    await field(page, 'width (m)').fill(text)
    await expect(errorOf(page, 'width (m)')).toContainText(said)
    await expect(field(page, 'width (m)')).toHaveValue(text)
    await expect(field(page, 'width (m)')).toHaveAccessibleDescription(new RegExp(said.slice(0, 4)))
  }
  await expect(own(page).locator('.notices')).toContainText('The pictures show the last box that fits together.')
  await field(page, 'width (m)').fill('0.32')
  await expect(own(page).locator('.error')).toHaveCount(0)
  const across = field(page, 'right of the middle (m)').first()
  await across.fill('0.1')
  await across.press('Enter')
  await expect(own(page).locator('.error')).toHaveText('Past the right edge. Allowed: −0.055 m to 0.055 m.')
  await across.fill('0')
  await across.press('Enter')
  const up = field(page, 'above the middle (m)').nth(1)
  await up.fill('0')
  await up.press('Enter')
  await expect(own(page).locator('.error')).toContainText('Driver 2 overlaps driver 1.')
  await up.fill('0.13')
  await up.press('Enter')
  await expect(own(page).locator('.error')).toHaveCount(0)
  expect(await sentence(page).textContent()).toBe(before)
  expect(await picture()).toBe(drawn)
  // The address follows the last sound state: of all that was typed nothing is in it.
  await page.getByLabel('as the box radiates it').check()
  await expect(page).toHaveURL(/box\.front=as-radiated/)
  expect([...new URL(page.url()).searchParams.keys()]).toEqual(['box.v', 'box.front'])
  expect(heard).toEqual([])
})

test('four drivers are the most, one the least; kinds and ways can be changed', async ({ page }) => {
  await open(page)
  const add = page.getByRole('button', { name: 'add a driver' })
  await add.click()
  await add.click()
  await expect(add).toBeDisabled()
  await expect(own(page)).toContainText('4 drivers are the most.')
  for (let count = 4; count > 1; count--) await page.getByRole('button', { name: `remove driver ${count}` }).click()
  await expect(page.getByRole('button', { name: /remove driver/ })).toHaveCount(0)
  await expect(own(page).locator('.error')).toContainText('No driver plays above the crossover')
  await page.getByLabel('all drivers play everything').check()
  await expect(own(page).locator('.error')).toHaveCount(0)
  await page.getByLabel('kind').selectOption('horn')
  await expect(field(page, 'mouth width (m)')).toHaveValue('0.2')
  await expect(count(page)).toContainText('of 19')
})

test('fine settings change what a part of several drivers does, go into the link, and say what is wrong', async ({
  page,
}) => {
  await open(page, '?box.v=1&box.crossoverHz=0&box.drivers=c_0.1_0_-0.15_low*c_0.1_0_0.15_low')
  await allSolved(page)
  const before = await own(page).locator('.difference svg').innerHTML()
  const fine = page.getByRole('group', { name: 'Driver 2' }).locator('details')
  await fine.locator('summary').click()
  await fine.getByRole('checkbox', { name: /polarity inverted/ }).check()
  await expect(fine.locator('.error')).toContainText('cancel each other straight in front')
  await fine.getByRole('textbox', { name: 'level (dB)' }).fill('-6')
  await expect(fine.locator('.error')).toHaveCount(0)
  await expect(fine.locator('summary')).toContainText('(changed)')
  await fine.getByRole('textbox', { name: 'delay (ms)' }).fill('51')
  await expect(fine.locator('.error')).toHaveText('Too large. Allowed: 0 ms to 50 ms.')
  await fine.getByRole('textbox', { name: 'delay (ms)' }).fill('0.4')
  await expect(fine.locator('.error')).toHaveCount(0)
  await allSolved(page)
  expect(await own(page).locator('.difference svg').innerHTML()).not.toBe(before)
  await expect(page).toHaveURL(/box\.fine=0_0_n\*-6_0\.4_i/)
})

test('a port in the back: the form asks for it, the sentence tells it, the link and the saved rig keep it', async ({
  page,
  browser,
}) => {
  const heard = listen(page)
  await open(page)
  const group = own(page).getByRole('group', { name: 'Is there a port in the back?' })
  const told = own(page).locator('.of-port')
  await expect(group.getByLabel('no, or the port is elsewhere')).toBeChecked()
  await expect(told).toHaveCount(0)
  await group.getByLabel('a round port').check()
  await group.getByRole('textbox', { name: 'tuned to (Hz)' }).fill('5')
  await expect(group.locator('.error')).toHaveText('Too small. Allowed: 20 Hz to 200 Hz.')
  await group.getByRole('textbox', { name: 'tuned to (Hz)' }).fill('50')
  await group.getByRole('textbox', { name: 'above the middle (m)' }).fill('0.3')
  await expect(group.locator('.error')).toHaveText('Past the top edge. Allowed: −0.23 m to 0.23 m.')
  await group.getByRole('textbox', { name: 'above the middle (m)' }).fill('0.1')
  await expect(group.locator('.error')).toHaveCount(0)
  await expect(group).toContainText('That is not computed')
  const port = { diameterM: 0.1, tuningHz: 50, xM: 0, yM: 0.1 }
  const design = { ...top, port }
  await allSolved(page)
  await expect(told).toHaveText(portSentence(boxOfDesign(design), expectedWrap(design).bands))
  await expect(told).toContainText('tuned to 50 Hz')
  await expect(page).toHaveURL(/box\.port=0\.1_50_0_0\.1/)
  const words = await told.textContent()

  const context = await anotherReader(browser)
  const other = await context.newPage()
  await other.goto(page.url())
  await expect(own(other).locator('.of-port')).toHaveText(words ?? '', longWork)
  await expect(own(other).getByRole('textbox', { name: 'tuned to (Hz)' })).toHaveValue('50')
  await expect(own(other).locator('.notices')).toBeEmpty()
  await context.close()

  await expectAccessible(page)
  await own(page).getByLabel('name of this box').fill('Our ported top')
  await own(page).getByRole('button', { name: 'save as my rig' }).click()
  await group.getByLabel('no, or the port is elsewhere').check()
  await expect(told).toHaveCount(0)
  await expect(page).not.toHaveURL(/box\.port/)
  await own(page).getByLabel('start from').selectOption({ label: 'Our ported top' })
  await expect(group.getByRole('textbox', { name: 'tuned to (Hz)' })).toHaveValue('50')
  expect(heard).toEqual([])
})

test('a driver is taken by the size that it is sold as, finds its place, and is moved by mouse and keys', async ({
  page,
}) => {
  await open(page)
  await field(page, 'width (m)').fill('0.45')
  await field(page, 'height (m)').fill('0.7')
  await own(page).getByRole('group', { name: 'Driver 1' }).getByLabel('size').selectOption('15 in')
  await expect(own(page).getByText('15 in: the cone is about 33 cm across.')).toBeVisible()
  await expect(own(page).locator('.error')).toHaveCount(0)
  await expect(page).toHaveURL(/box\.drivers=c_0\.33_/)
  const handle = own(page).getByRole('slider', { name: /^Driver 1/ })
  const before = Number(await handle.getAttribute('aria-valuenow'))
  await handle.focus()
  await handle.press('ArrowDown')
  await expect.poll(async () => Number(await handle.getAttribute('aria-valuenow'))).toBeLessThan(before)
  const shape = await own(page)
    .getByRole('slider', { name: /^Driver 2/ })
    .boundingBox()
  if (!shape) throw new Error('no driver')
  await page.mouse.move(shape.x + shape.width / 2, shape.y + shape.height / 2)
  await page.mouse.down()
  await page.mouse.move(shape.x + shape.width / 2 + 20, shape.y + shape.height / 2, { steps: 4 })
  await page.mouse.up()
  await expect(field(page, 'right of the middle (m)').nth(1)).not.toHaveValue('0')
  await expect(own(page).locator('.error')).toHaveCount(0)
})

test('what was solved here is not solved again in the walk-round', async ({ page }) => {
  await open(page)
  await own(page)
    .getByLabel('start from')
    .selectOption({ label: await labelOf(page, 'compact') })
  await field(page, 'depth (m)').fill('0.2')
  await expect(own(page).locator('.solving')).toContainText('Your rig is solved', longWork)
  await allSolved(page)
  await own(page).getByLabel('name of this box').fill('Ours')
  await own(page).getByRole('button', { name: 'save as my rig' }).click()
  await own(page).getByRole('link', { name: 'walk round it' }).click()
  await expect(page).toHaveURL(/walk\.rig=own-ours/)
  await expect(page.getByText('each cabinet is a hard ball', { exact: false })).toHaveCount(0)
  await expect(page.locator('.walk .solving')).toHaveCount(0)
})

test('arrow keys step by a centimetre, in feet by half an inch, and sizes follow the unit', async ({ page }) => {
  await open(page)
  await field(page, 'depth (m)').press('ArrowUp')
  await expect(field(page, 'depth (m)')).toHaveValue('0.31')
  await field(page, 'depth (m)').press('ArrowDown')
  await page.getByRole('button', { name: 'Lengths in feet' }).click()
  await expect(field(page, 'width (in)')).toHaveValue('12.6')
  await field(page, 'width (in)').press('ArrowUp')
  await expect(field(page, 'width (in)')).toHaveValue('13.1')
  await field(page, 'width (in)').fill('1 ft 2 in')
  await field(page, 'height (in)').focus()
  await expect(field(page, 'width (in)')).toHaveValue('14')
  await expect(page).toHaveURL(/box\.widthM=0\.3556/)
})

test('the link restores the box, the band, the view and feet for another reader', async ({ page, browser }) => {
  await open(page)
  await own(page)
    .getByLabel('start from')
    .selectOption({ label: await labelOf(page, 'compact') })
  await field(page, 'depth (m)').fill('0.2')
  await own(page).getByRole('slider', { name: 'band' }).fill('10')
  await page.getByLabel('as the box radiates it').check()
  await page.getByRole('button', { name: 'Lengths in feet' }).click()
  await expect(own(page).locator('.solving')).toContainText('Your rig is solved', longWork)
  await allSolved(page)
  await expect(page).toHaveURL(/box\.units=ft/)
  const [said, title] = [await sentence(page).textContent(), await finding(page).textContent()]
  const context = await anotherReader(browser)
  const other = await context.newPage()
  await other.goto(page.url())
  await expect(sentence(other)).toHaveText(said ?? '', longWork)
  await expect(finding(other)).toHaveText(title ?? '')
  await expect(field(other, 'depth (in)')).toHaveValue('7.9')
  await expect(other.getByLabel('as the box radiates it')).toBeChecked()
  await expect(own(other).getByRole('heading', { name: /^Round the box at/ })).toHaveText('Round the box at 315 Hz')
  await expect(own(other).locator('.notices')).toBeEmpty()
  await context.close()
})

const labelOf = async (page: Page, word: string) => {
  const labels = await own(page).locator('select option').allTextContents()
  return labels.find((label) => label.includes(word)) ?? ''
}

test.describe('bad links open with what could be read and say what was dropped', () => {
  for (const [query, said] of [
    ['?box.v=1&box.widthM=900', 'widthM “900” (outside 0.05 to 2 m)'],
    ['?box.v=7&box.colour=red', 'a newer version'],
    [`?box.drivers=${Array(5).fill('c_0.05_0_0_low').join('*')}`, 'more than 4 drivers'],
    ['?box.drivers=%3Cscript%3E', 'not a list of drivers'],
    ['?box.depthM=NaN', 'depthM “NaN”'],
  ] as const) {
    test(query.slice(0, 40), async ({ page }) => {
      const heard = listen(page)
      await open(page, query)
      await expect(own(page).locator('.notices p').first()).toContainText(said)
      await expect(sentence(page)).toHaveText(wrapSentence(expectedWrap(top).wrap))
      expect(heard).toEqual([])
    })
  }

  test('a link whose parts do not fit together fills the form, marks the field and keeps the demo picture', async ({
    page,
  }) => {
    await open(page, '?box.widthM=0.2')
    await expect(field(page, 'width (m)')).toHaveValue('0.2')
    await expect(own(page).locator('.error')).toHaveText(
      'These drivers do not fit on the front. It would have to be 0.26 m wide and 0.56 m high; or take smaller drivers, or fewer.',
    )
    await expect(sentence(page)).toHaveText(wrapSentence(expectedWrap(top).wrap))
  })
})

test('a saved rig is on this device, in a file and in the walk-round', async ({ page }) => {
  const heard = listen(page)
  await open(page)
  await field(page, 'depth (m)').fill('0.4')
  await own(page).getByLabel('name of this box').fill('Our top')
  await own(page).getByRole('button', { name: 'save as my rig' }).click()
  await expect(own(page).getByRole('status').filter({ hasText: 'Saved' })).toHaveText(
    'Saved on this device as “Our top”.',
  )
  await expect(own(page).getByRole('button', { name: 'replace my rig' })).toBeVisible()

  const download = page.waitForEvent('download')
  await own(page).getByRole('button', { name: 'export all to a file' }).click()
  const kept = JSON.parse(readFileSync(await (await download).path(), 'utf8'))
  expect(kept).toMatchObject({ version: 1, rigs: [{ key: 'own-our-top', name: 'Our top' }] })
  expect(kept.rigs[0].rig.cabinets[0]).toMatchObject({ widthM: 0.32, depthM: 0.4 })

  await own(page).getByRole('link', { name: 'walk round it' }).click()
  await expect(page.locator('.plan canvas')).toBeVisible()
  await expect(page.getByRole('combobox', { name: 'rig', exact: true })).toHaveValue('own-our-top')
  await expect(page.locator('.notices')).toBeEmpty()
  await expect(page.locator('.walk .about')).toContainText('is your own rig, kept on this device')
  await expect(page.locator('.sentence')).toContainText('Bass is')
  await expect(page).toHaveURL(/walk\.rig=own-our-top/)
  expect(heard).toEqual([])
})

/** A file of one rig, as the export writes it. */
const fileOf = (design: BoxDesign) =>
  JSON.stringify({ version: 1, rigs: [{ key: 'own-our-top', name: 'Our top', rig: rigOfDesign('Our top', design) }] })

test('a link to a rig of another device opens with what could be read; the rig comes in by its file', async ({
  page,
}) => {
  const heard = listen(page)
  await page.goto('/?walk.v=1&walk.rig=own-our-top')
  await expect(page.locator('.notices p')).toContainText('own rig, which is saved on another device or was deleted')
  await expect(page.getByRole('combobox', { name: 'rig', exact: true })).toHaveValue('top-over-sub')
  await open(page)
  const bring = (name: string, text: string) =>
    own(page)
      .getByLabel('import from a file')
      .setInputFiles({ name, mimeType: 'application/json', buffer: Buffer.from(text) })
  await bring('my-rigs.json', fileOf({ ...top, depthM: 0.4 }))
  await expect(own(page).getByRole('status').filter({ hasText: 'added' })).toHaveText('1 rig added')
  await own(page).getByRole('button', { name: 'open it here' }).click()
  await expect(field(page, 'depth (m)')).toHaveValue('0.4')
  await bring('wrong.json', '{"version":3,"rigs":[]}')
  await expect(own(page).getByRole('status').filter({ hasText: 'newer' })).toContainText('a newer version wrote it')
  expect(heard).toEqual([])
})

test('a saved rig is gone when it is deleted, which takes two presses', async ({ page }) => {
  const heard = listen(page)
  await page.addInitScript((kept) => localStorage.setItem('round-the-back.rigs', kept), fileOf(top))
  await open(page)
  await own(page).getByRole('button', { name: 'delete Our top' }).click()
  await own(page).getByRole('button', { name: 'press again to delete' }).click()
  await expect(own(page).getByRole('link', { name: 'walk round it' })).toHaveCount(0)
  expect(await page.evaluate(() => localStorage.getItem('round-the-back.rigs'))).toBe('{"version":1,"rigs":[]}')
  expect(heard).toEqual([])
})

test('storage that is blocked or spoilt spoils nothing', async ({ page }) => {
  await page.goto('/safety/')
  await page.evaluate(() => localStorage.setItem('round-the-back.rigs', '{"version":1,"rigs":'))
  await open(page)
  await expect(own(page)).toContainText('cannot be read. They are kept')
  await own(page).getByLabel('name of this box').fill('New')
  await own(page).getByRole('button', { name: 'save as my rig' }).click()
  await expect(own(page).getByRole('link', { name: 'walk round it' })).toBeVisible()
  expect(await page.evaluate(() => localStorage.getItem('round-the-back.rigs.unread.1'))).toBe('{"version":1,"rigs":')

  // What was set aside can be had as a file, and forgotten then.
  await page.goto('/lessons/more-boxes/')
  const aside = page.locator('#set-aside')
  await expect(aside).toBeVisible()
  await expect(aside.getByRole('button', { name: 'forget it' })).toBeHidden()
  const saved = page.waitForEvent('download')
  await aside.getByRole('button', { name: 'save it as a file' }).click()
  const file = JSON.parse(readFileSync(await (await saved).path(), 'utf8'))
  expect(file['round-the-back.rigs.unread.1']).toBe('{"version":1,"rigs":')
  await aside.getByRole('button', { name: 'forget it' }).click()
  await expect(aside).toBeHidden()
})

test('without workers the page solves by itself and says so', async ({ page }) => {
  await page.addInitScript(() => {
    Object.defineProperty(window, 'Worker', {
      value: class {
        constructor() {
          throw new DOMException('blocked', 'SecurityError')
        }
      },
    })
  })
  await open(page, '?box.widthM=0.4')
  await expect(own(page).locator('.notices')).toContainText('Background workers are off')
  await allSolved(page)
  await expect(sentence(page)).toHaveText(wrapSentence(expectedWrap({ ...top, widthM: 0.4 }).wrap))
})

test('with errors shown and a rig saved there is no accessibility violation; with the table open nothing scrolls sideways', async ({
  page,
}) => {
  const heard = listen(page)
  await open(page)
  await own(page).getByLabel('name of this box').fill('Ours')
  await own(page).getByRole('button', { name: 'save as my rig' }).click()
  await field(page, 'width (m)').fill('-1')
  await field(page, 'covers across (°)').fill('x')
  await expect(own(page).locator('.error')).toHaveCount(2)
  await expectAccessible(page)
  await own(page).locator('.words summary', { hasText: 'table' }).click()
  await field(page, 'height (m)').fill('a length')
  await expect(own(page).locator('.error')).toHaveCount(3)
  await expectNoSidewaysScroll(page)
  expect(heard).toEqual([])
})

test.describe('without JavaScript', () => {
  test.use({ javaScriptEnabled: false })
  test('the words, the pictures and the solved numbers of the demo top are there, and no dead control', async ({
    page,
  }) => {
    await page.goto('/own-box/')
    const { wrap } = expectedWrap(top)
    await expect(finding(page)).toHaveText(wrapTitle(wrap))
    await expect(sentence(page)).toHaveText(wrapSentence(wrap))
    await expect(page.getByText('solved by boundary elements when the page was made')).toBeVisible()
    await own(page).locator('div.change > details > summary').click()
    for (const part of ['.response', '.difference', '.round', '.index', '.sketch']) {
      await expect(own(page).locator(`${part} svg`).first()).toBeVisible()
    }
    await expect(page.getByRole('textbox')).toHaveCount(0)
    await expect(page.getByRole('button')).toHaveCount(0)
  })
})
