// Sending: a figure or an answer goes to somebody else as it stands, with the sender's own rig and words, as link, code or frame.
import { readFileSync } from 'node:fs'
import { expect, type Locator, type Page } from '@playwright/test'
import { decode } from 'fast-png'
import jsQR from 'jsqr'
import { seededRandom } from '../../src/acoustics/signals/seeded-random.ts'
import { enclosedIn } from '../../src/state/enclosed-text.ts'
import { type Enclosure, readEnclosure, writeEnclosure } from '../../src/state/enclosure.ts'
import { noWords } from '../../src/state/sender.ts'
import { answers } from './built-pages.ts'
import { keptSmallRig, smallRig } from './own-rigs.ts'
import { expectAccessible, expectNoSidewaysScroll, framesPass, listen, longWork, wakeFigures } from './page-checks.ts'
import { anotherReader, test } from './test.ts'

const answer = '/answers/why-more-bass-behind/'
const nasty = '<img src=x onerror="window.wasRun = true"> \u202e& ring us 🔊'
const rig = smallRig('my small box')
const saved = keptSmallRig('own-my-small-box', 'my small box')
const keepRig = (page: Page) => page.addInitScript((text) => localStorage.setItem('round-the-back.rigs', text), saved)

const walk = (page: Page) => page.getByRole('region', { name: 'Walk round a loudspeaker' })
const received = (page: Page) => page.getByRole('complementary', { name: 'Added by who sent you this' })

/** Opens the fold of a figure, or of an answer, with the ways to send it. */
async function openSend(part: Locator, by: 'hand' | 'key' = 'hand'): Promise<Locator> {
  const fold = part.locator('summary', { hasText: /^send$|^Send this answer$/ })
  await (by === 'hand' ? fold.click() : fold.press('Enter'))
  const send = part.locator('.send')
  await expect(send.getByRole('button', { name: 'copy the link' })).toBeVisible()
  return send
}
/** Has the page copy into a variable; `refuses` as a browser does that does not let it. */
const stubClipboard = (page: Page, refuses = false) =>
  page.addInitScript((no) => {
    const writeText = (text: string) =>
      no ? Promise.reject(new Error('no')) : Promise.resolve(void Object.assign(window, { copiedText: text }))
    Object.defineProperty(navigator, 'clipboard', { value: { writeText } })
  }, refuses)
const copied = (page: Page) => page.evaluate(() => (window as unknown as { copiedText: string }).copiedText)
const copyFrom = async (page: Page, send: Locator) => {
  await send.getByRole('button', { name: 'copy the link' }).click()
  await expect(send.getByText('Link copied.')).toBeVisible()
  return copied(page)
}
const linkWith = (enclosure: Enclosure, address = answer) => `${address}#with=${writeEnclosure(enclosure)}`

test('on a desk the link is copied, opens at the figure as it was, and leaves the guess out', async ({
  page,
  context,
}) => {
  await stubClipboard(page)
  await page.goto('/lessons/walk-round-the-back/?guess.v=1&guess.shown=true&walk.v=1&walk.angleDeg=90')
  await wakeFigures(page)
  const link = await copyFrom(page, await openSend(walk(page)))
  expect(link).toMatch(/#figure-walk$/)
  expect(link).toContain('walk.angleDeg=90')
  expect(link).not.toContain('guess')
  const other = await context.newPage()
  await other.goto(link)
  await expect(other.locator('#figure-walk')).toBeInViewport()
  await expect(other.locator('#figure-walk .sentence')).toContainText('beside')
})

test('a browser that does not let the page copy gets the link to copy by hand', async ({ page }) => {
  await stubClipboard(page, true)
  await page.goto(answer)
  await wakeFigures(page)
  const send = await openSend(page.locator('#send-page'))
  await send.getByRole('button', { name: 'copy the link' }).click()
  await expect(send.getByText('did not let the page copy')).toBeVisible()
  await expect(send.locator('.link')).toHaveText(new URL(answer, page.url()).href)
})

test.describe('on a telephone', () => {
  test.use({ viewport: { width: 390, height: 844 } })

  test('the device’s own share sheet comes first; who closes it is told nothing, and a failure is told', async ({
    page,
  }) => {
    await stubClipboard(page)
    await page.addInitScript(() => {
      Object.defineProperty(navigator, 'share', {
        value: (what: ShareData) => {
          const { end } = window as unknown as { end?: string }
          Object.assign(window, { sharedWhat: what })
          return end ? Promise.reject(new DOMException('no line', end)) : Promise.resolve()
        },
      })
    })
    await page.goto(answer)
    await wakeFigures(page)
    const send = await openSend(page.locator('#send-page'))
    const share = send.getByRole('button', { name: 'share …' })
    await expect(share).toHaveClass(/primary/)
    await share.click()
    await expect(send.getByText('Handed to the program')).toBeVisible()
    expect(await page.evaluate(() => (window as unknown as { sharedWhat: ShareData }).sharedWhat)).toEqual({
      title: 'Why is there more bass behind the speakers? · Round the Back',
      url: new URL(answer, page.url()).href,
    })
    await page.evaluate(() => Object.assign(window, { end: 'AbortError' }))
    await share.click()
    await expect(send.locator('.row [role=status]')).toBeEmpty()
    await page.evaluate(() => Object.assign(window, { end: 'DataError' }))
    await share.click()
    await expect(send.getByText('Your device did not share it (no line)')).toBeVisible()
    await copyFrom(page, send)
    await expectNoSidewaysScroll(page, [320, 390])
  })
})

test('a rig of one’s own travels in the link, is used at once, and is kept beside one of its name', async ({
  page,
  browser,
}) => {
  await stubClipboard(page)
  await keepRig(page)
  await page.goto('/?walk.v=1&walk.rig=own-my-small-box&walk.angleDeg=180')
  await wakeFigures(page)
  const send = await openSend(walk(page))
  await expect(send.getByText('The rig “my small box” travels in the link.')).toBeVisible()
  const link = await copyFrom(page, send)
  expect(link).not.toContain('own-my')
  expect(link.length).toBeLessThan(600)

  const other = await (await anotherReader(browser)).newPage()
  const heard = listen(other)
  const another = { ...rig, cabinets: [{ ...rig.cabinets[0], depthM: 0.5 }] }
  await other.addInitScript(
    (text) => localStorage.getItem('round-the-back.rigs') ?? localStorage.setItem('round-the-back.rigs', text),
    JSON.stringify({ version: 1, rigs: [{ key: 'own-mine', name: 'my small box', rig: another }] }),
  )
  await other.goto(link)
  await expect(received(other)).toContainText('The rig “my small box” came with this link')
  await expect(received(other)).toBeInViewport()
  await wakeFigures(other)
  const choice = walk(other).getByRole('combobox', { name: 'rig', exact: true })
  await expect(choice.locator('option:checked')).toHaveText('Sent rig: my small box')
  await expect(walk(other).locator('.solving')).toContainText(/Solving your rig|is solved/)
  await expect(walk(other).locator('.notices p')).toHaveCount(0)
  await received(other).getByRole('button', { name: 'keep it on this device' }).click()
  await expect(received(other)).toContainText('Kept on this device as “my small box (2)”')
  await expect(choice.locator('option', { hasText: 'My rig: my small box (2)' })).toHaveCount(1)
  const kept = await other.evaluate(() => JSON.parse(localStorage.getItem('round-the-back.rigs') ?? '{}'))
  expect(
    kept.rigs.map(({ name, rig: { cabinets } }: { name: string; rig: typeof rig }) => [name, cabinets[0]?.depthM]),
  ).toEqual([
    ['my small box', 0.5],
    ['my small box (2)', 0.2],
  ])
  // It goes on from there to a third device, without being kept.
  await stubClipboard(other)
  await other.reload()
  await wakeFigures(other)
  const onward = await copyFrom(other, await openSend(walk(other)))
  expect(readEnclosure(enclosedIn(new URL(onward).hash))).toEqual({
    from: noWords,
    rigs: [{ name: 'my small box', rig }],
  })
  expect(heard).toEqual([])
})

test('the crew’s name, way and note are kept for the next time and arrive as text', async ({ page, browser }) => {
  await stubClipboard(page)
  await page.goto(answer)
  await wakeFigures(page)
  const send = await openSend(page.locator('#send-page'))
  await send.locator('summary', { hasText: 'your name and a note' }).click()
  await send.getByLabel('Your name or your crew’s').fill('צוות הבמה')
  await send.getByLabel('How to reach you').fill('+1 555 010 0000')
  await send.getByLabel('A note').fill(nasty)
  await send.getByLabel('A note').blur()
  await expect(send.locator('summary', { hasText: 'from צוות הבמה' })).toBeVisible()
  const link = await copyFrom(page, send)
  await page.reload()
  await wakeFigures(page)
  expect(await copyFrom(page, await openSend(page.locator('#send-page')))).toBe(link)

  const other = await (await anotherReader(browser)).newPage()
  const heard = listen(other)
  await other.goto(link)
  const told = received(other)
  await expect(told).toContainText('Added by who sent you this, not by this site:')
  await expect(told.locator('bdi.name')).toHaveText('צוות הבמה')
  await expect(told.locator('bdi.note')).toHaveText(nasty.replace('\u202e', ''))
  await expect(told.getByRole('link')).toHaveAttribute('href', 'tel:+15550100000')
  await expect(told.locator('img, script')).toHaveCount(0)
  expect(await other.evaluate(() => 'wasRun' in window)).toBe(false)
  await wakeFigures(other)
  await expectAccessible(other, 'aside')
  await expectNoSidewaysScroll(other)
  // Whoever sends it on sends their own words, not these.
  await stubClipboard(other)
  await other.reload()
  await wakeFigures(other)
  expect(await copyFrom(other, await openSend(other.locator('#send-page')))).toBe(new URL(answer, other.url()).href)
  expect(heard).toEqual([])
})

test('a way to reach the sender that is no mail and no telephone is no link', async ({ page }) => {
  await page.goto(linkWith({ from: { name: '', reach: 'javascript:alert(1)', note: '' }, rigs: [] }))
  await expect(received(page).locator('.reach')).toHaveText('javascript:alert(1)')
  await expect(received(page).getByRole('link')).toHaveCount(0)
})

/** Pages of the printed page. */
const sheets = async (page: Page) =>
  (await page.pdf({ format: 'A4', preferCSSPageSize: true })).toString('latin1').match(/\/Type\s*\/Page\b(?!s)/g)
    ?.length

for (const slug of answers)
  test(`the longest words print with the answer ${slug} on its one page, with a QR code that is asked for`, async ({
    page,
  }) => {
    const from = { name: 'n '.repeat(30).trim(), reach: 'r '.repeat(40).trim(), note: 'word '.repeat(56).trim() }
    await page.goto(linkWith({ from, rigs: [] }, `/answers/${slug}/`))
    await wakeFigures(page)
    expect(await sheets(page)).toBe(1)
    const send = await openSend(page.locator('#send-page'))
    await send.locator('summary', { hasText: 'QR code' }).click()
    await expect(send.locator('.qr svg')).toBeVisible()
    expect(await sheets(page)).toBe(1)
    await page.emulateMedia({ media: 'print' })
    await expect(received(page).locator('.note')).toBeVisible()
    // In the corner of the sheet, wherever the screen has been scrolled to.
    expect(await send.locator('.qr svg').evaluate((code) => code.getBoundingClientRect().top + scrollY)).toBeLessThan(
      20,
    )
    await expect(send.getByRole('button', { name: 'copy the link' })).toBeHidden()
  })

const good = writeEnclosure({ from: { name: 'Deck crew', reach: '', note: '' }, rigs: [{ name: 'x', rig }] })
for (const [what, text] of Object.entries({
  'cut short': good.slice(0, 60),
  changed: good.replace(/.$/, (last) => (last === 'A' ? 'B' : 'A')),
  'of another form': '%3Cscript%3E',
  'of a later site': `9${good.slice(1)}`,
  huge: `1.${'A'.repeat(200_000)}`,
}))
  test(`what came along ${what} is left out in one line, and the page opens`, async ({ page }) => {
    const heard = listen(page)
    await page.goto(`/?walk.v=1&walk.rig=sent-1&walk.angleDeg=90#figure-walk&with=${text}`)
    await expect(received(page)).toContainText('What the sender added to this link is left out')
    await expect(received(page).locator('p')).toHaveCount(1)
    await wakeFigures(page)
    await expect(walk(page).locator('.sentence')).toContainText('beside')
    await expect(walk(page).locator('.notices p')).toHaveCount(0)
    expect(heard).toEqual([])
  })

test('a rig that does not come along although the link names one is told by its figure', async ({ page }) => {
  await page.goto('/?walk.v=1&walk.rig=sent-1')
  await wakeFigures(page)
  await expect(walk(page).locator('.notices')).toContainText('which did not come with the link')
})

test('a link opened on the page that it leads to opens too', async ({ page }) => {
  await page.goto(answer)
  await page.evaluate(
    (address) => location.assign(address),
    linkWith({ from: { name: 'Deck crew', reach: '', note: '' }, rigs: [] }),
  )
  await expect(received(page)).toContainText('Deck crew')
})

/** What another library reads from the QR code on the screen. */
async function readQr(send: Locator): Promise<string | undefined> {
  const { data, width, height, channels } = decode(await send.locator('.qr svg').screenshot())
  const pixels = new Uint8ClampedArray(4 * width * height)
  for (let at = 0; at < width * height; at++)
    for (let part = 0; part < 4; part++)
      pixels[4 * at + part] = part < channels ? (data[channels * at + part] ?? 0) : 255
  return jsQR(pixels, width, height, { inversionAttempts: 'dontInvert' })?.data
}

for (const colorScheme of ['light', 'dark'] as const)
  for (const width of [390, 1280])
    test(`the QR code is the link, ${colorScheme} and ${width} px wide, with a rig and a note in it`, async ({
      page,
    }) => {
      await page.setViewportSize({ width, height: 844 })
      await page.emulateMedia({ colorScheme })
      await stubClipboard(page)
      await keepRig(page)
      await page.goto('/?walk.v=1&walk.rig=own-my-small-box')
      await wakeFigures(page)
      // By keys: while the rig is being solved, what stands above the fold may move under a hand.
      const send = await openSend(walk(page), 'key')
      await send.locator('summary', { hasText: 'your name and a note' }).press('Enter')
      await send.getByLabel('A note').fill('Ask for us at the desk, left of the stage. 🔊')
      await send.locator('summary', { hasText: 'QR code' }).press('Enter')
      const link = await copyFrom(page, send)
      // A picture that is taken while the page moves cannot be read.
      await expect.poll(() => readQr(send)).toBe(link)
      // It follows the figure.
      await walk(page).getByRole('combobox', { name: 'rig', exact: true }).selectOption('compact-two-way')
      await expect.poll(() => copyFrom(page, send)).not.toBe(link)
      const next = await copied(page)
      await expect.poll(() => readQr(send)).toBe(next)
    })

test('a link that is too long for a QR code says so', async ({ page }) => {
  let at = 0
  const words = (length: number) =>
    Array.from({ length }, () => String.fromCodePoint(0x4e00 + ((at++ * 7919) % 20_000))).join('')
  await page.goto(answer)
  await wakeFigures(page)
  const send = await openSend(page.locator('#send-page'))
  await send.locator('summary', { hasText: 'your name and a note' }).click()
  await send.getByLabel('Your name').fill(words(60))
  await send.getByLabel('How to reach you').fill(words(80))
  await send.getByLabel('A note').fill(words(280))
  await send.locator('summary', { hasText: 'QR code' }).click()
  await expect(send.getByText('a QR code that a telephone reads from a screen holds 1000')).toBeVisible()
  await expect(send.locator('.qr')).toHaveCount(0)
})

test('the sender’s own words print beside the QR code', async ({ page }) => {
  await page.goto(answer)
  await wakeFigures(page)
  const send = await openSend(page.locator('#send-page'))
  await send.locator('summary', { hasText: 'your name and a note' }).click()
  await send.getByLabel('Your name').fill('Deck crew')
  await send.locator('summary', { hasText: 'QR code' }).click()
  await expect(send.locator('.qr svg')).toBeVisible()
  await page.emulateMedia({ media: 'print' })
  await expect(send.locator('.qr .paper')).toContainText('Deck crew')
  expect(await sheets(page)).toBe(1)
})

for (const [path, name] of [
  ['/', 'Walk round a loudspeaker'],
  ['/lessons/the-wall-joins-in/', undefined],
  ['/lessons/what-your-ear-makes-of-it/', undefined],
] as const)
  test(`the embed code of ${path} fits its frame without a bar to scroll by, without a script at the host`, async ({
    page,
    context,
  }) => {
    test.setTimeout(300_000)
    await stubClipboard(page)
    await page.goto(path)
    await wakeFigures(page)
    const figure = name ? page.getByRole('region', { name }) : page.locator('.figure:has(.links)').first()
    const send = await openSend(figure)
    await send.locator('summary', { hasText: 'embed' }).click()
    const code = send.getByLabel('HTML for your own page')
    await expect(code).toBeVisible(longWork)
    await send.getByRole('button', { name: 'copy the code' }).click()
    await expect(send.getByText('Code copied.')).toBeVisible()
    const html = await copied(page)
    expect(html).toBe(await code.inputValue())
    const host = await context.newPage()
    await host.route('**/host.html', (route) =>
      route.fulfill({
        contentType: 'text/html',
        body: `<!doctype html><meta name="viewport" content="width=device-width"><body style="margin:8px">${html}`,
      }),
    )
    for (const width of [390, 1280]) {
      await host.setViewportSize({ width, height: 844 })
      await host.goto(new URL('/host.html', page.url()).href)
      const frame = await (await host.waitForSelector('iframe')).contentFrame()
      if (!frame) throw new Error('There is no frame')
      await frame.waitForLoadState()
      await host.evaluate(() => document.querySelector('iframe')?.scrollIntoView())
      await wakeFrame(host)
      await framesPass(host, 5)
      const { innerPx, heldPx, leadsBack } = await frame.evaluate(() => ({
        innerPx: document.documentElement.scrollHeight,
        heldPx: innerHeight,
        leadsBack: document.querySelector('main > p:last-child a')?.getAttribute('href') ?? '',
      }))
      expect(innerPx, `${width} px: needed in ${heldPx}`).toBeLessThanOrEqual(heldPx)
      expect(leadsBack).toMatch(/^\//)
    }
  })

/** Wakes the figures of the frame as a reader does who reads on. */
async function wakeFrame(host: Page): Promise<void> {
  const asleep = () =>
    host.evaluate(() => {
      const frame = document.querySelector('iframe')
      const islands = frame?.contentDocument?.querySelectorAll('astro-island[ssr]') ?? []
      islands[0]?.firstElementChild?.scrollIntoView({ block: 'center', behavior: 'instant' })
      return islands.length + (frame?.contentDocument?.querySelectorAll('.told.old').length ?? 0)
    })
  await expect.poll(asleep, { intervals: [50] }).toBe(0)
}

test('a rig that is too long for a link goes as a file, which Own box reads', async ({ page }) => {
  const random = seededRandom(7)
  const cabinets = Array.from({ length: 32 }, (_, place) => ({
    ...rig.cabinets[0],
    name: `cabinet ${random()}`,
    label: `label ${random()}`,
    frontCentre: { xM: place, yM: 1 + random(), zM: random() },
  }))
  await page.addInitScript(
    (text) => localStorage.setItem('round-the-back.rigs', text),
    JSON.stringify({ version: 1, rigs: [{ key: 'own-wall', name: 'Wall of boxes', rig: { name: 'wall', cabinets } }] }),
  )
  await page.goto('/embed/walk-round/?walk.v=1&walk.rig=own-wall')
  await wakeFigures(page)
  const send = await openSend(walk(page))
  await expect(send.getByText('The rig “Wall of boxes” makes the link longer than 2000 characters')).toBeVisible()
  const [download] = await Promise.all([
    page.waitForEvent('download'),
    send.getByRole('button', { name: 'save the rig as a file' }).click(),
  ])
  const text = readFileSync(await download.path(), 'utf8')
  await page.addInitScript(() => localStorage.removeItem('round-the-back.rigs'))
  await page.goto('/own-box/')
  await wakeFigures(page)
  await page
    .locator('.saved input[type=file]')
    .setInputFiles({ name: 'rig.json', mimeType: 'application/json', buffer: Buffer.from(text) })
  await expect(page.locator('.saved li strong')).toHaveText('Wall of boxes')
})

test('the ways to send are accessible and within the screen, open as far as they go', async ({ page }) => {
  await page.goto(answer)
  await wakeFigures(page)
  const send = await openSend(page.locator('#send-page'))
  for (const summary of await send.locator('summary').all()) await summary.click()
  await expect(send.locator('.qr svg')).toBeVisible()
  await expectAccessible(page, '#send-page')
  await expectNoSidewaysScroll(page)
})
