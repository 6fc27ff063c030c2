// A test that is sent: the link holds the numbers, and whoever opens it reads the same sentence, worked out anew.
import { expect, type Page } from '@playwright/test'
import { seededRandom } from '../../src/acoustics/signals/seeded-random.ts'
import { expectAccessible, expectNoSidewaysScroll, listen, longWork, wakeFigures } from './page-checks.ts'
import { anotherReader, test } from './test.ts'

const nasty = '<img src=x onerror="window.wasRun = true"> & Hall B'
const sheets = async (page: Page) => {
  const file = (await page.pdf({ format: 'A4', preferCSSPageSize: true })).toString('latin1')
  return file.match(/\/Type\s*\/Page\b(?!s)/g)?.length
}
const part = (page: Page, step: string) => page.locator(`.step[data-step=${step}]`)
const verdict = (page: Page) => page.locator('.step.verdict')

/** The table of a step, 29 bands a line, with what is added behind in dB by frequency. */
const bands = [
  25, 31.5, 40, 50, 63, 80, 100, 125, 160, 200, 250, 315, 400, 500, 630, 800, 1000, 1250, 1600, 2000, 2500, 3150, 4000,
  5000, 6300, 8000, 10000, 12500, 16000,
]
const table = (behindDb: (frequencyHz: number) => number) =>
  bands.map((band) => `${band};70;${behindDb(band).toFixed(2).replace('.', ',')}`).join('\n')

async function measureByTable(page: Page, text: string) {
  await page.goto('/compare/')
  await wakeFigures(page)
  for (const step of ['match', 'quiet']) await part(page, step).getByRole('button', { name: 'Pass over' }).click()
  await part(page, 'sound').getByLabel('as numbers').check()
  await part(page, 'sound').getByLabel('Or paste the table here').fill(text)
  await part(page, 'sound').getByRole('button', { name: 'Take these numbers' }).click()
  await expect(part(page, 'sound')).toHaveClass(/done/, longWork)
  await expect(verdict(page).locator('.sentence')).toBeVisible(longWork)
}
/** Presses the button and gives the link; where the browser does not let copy, it stands on the page. */
async function linkOf(page: Page): Promise<string> {
  await page.evaluate(() => {
    Object.defineProperty(navigator, 'clipboard', {
      value: { writeText: (text: string) => Promise.resolve(void Object.assign(window, { copiedText: text })) },
    })
  })
  await verdict(page).getByRole('button', { name: 'Copy a link for the client' }).click()
  await expect(verdict(page).getByText('The link is copied.')).toBeVisible()
  return page.evaluate(() => (window as unknown as { copiedText: string }).copiedText)
}

test('from the practice set to a page for the client, with the same sentence and the note as plain text', async ({
  page,
  browser,
}) => {
  test.setTimeout(400_000)
  await page.goto('/compare/')
  await wakeFigures(page)
  for (const step of ['match', 'quiet', 'sound']) {
    await part(page, step).getByRole('button', { name: 'Use the practice recording' }).click()
    await expect(part(page, step)).toHaveClass(/done/, longWork)
  }
  await part(page, 'sound').getByLabel('no', { exact: true }).check()
  const sentence = verdict(page).locator('.sentence')
  await expect(sentence).toHaveText(/^No: there is hardly any difference in the bass\. The treble is missing/, longWork)
  await verdict(page).getByLabel('A note for the client').fill(nasty)
  const link = await linkOf(page)
  expect(link.length).toBeLessThan(1500)
  expect(new URL(link).pathname).toBe('/compare/sent/')

  const fresh = await anotherReader(browser)
  const client = await fresh.newPage()
  const heard = listen(client)
  await client.goto(link)
  await wakeFigures(client)
  const sent = client.locator('.figure.sent')
  await expect(sent.locator('.sentence')).toHaveText((await sentence.textContent()) ?? '', longWork)
  await expect(sent).toContainText(`The sender adds: ${nasty}`)
  await expect(sent.locator('img')).toHaveCount(0)
  expect(await client.evaluate(() => 'wasRun' in window)).toBe(false)
  await expect(sent).toContainText('this page did not check it')
  await expect(sent).toContainText('practice recordings of this site')
  await expectAccessible(client)
  await expectNoSidewaysScroll(client, [320, 390, 1280])
  expect(await sheets(client)).toBe(1)

  // Both are heard as noise, one at a time, and Esc ends it.
  await sent.getByRole('button', { name: 'Play in front' }).click()
  await expect(sent.locator('[aria-pressed=true]')).toHaveText('Stop', longWork)
  await sent.getByRole('button', { name: 'Play behind' }).click()
  await expect(sent.locator('[aria-pressed=true]')).toHaveText('Stop', longWork)
  await expect(sent.locator('.hear [role=status]')).toHaveText('')
  await client.keyboard.press('Escape')
  await expect(sent.locator('[aria-pressed=true]')).toHaveCount(0)
  expect(heard).toEqual([])
  await fresh.close()
})

test('a link that is empty, cut short, changed or newer says so; a whole one that follows is shown', async ({
  page,
}) => {
  test.setTimeout(300_000)
  await measureByTable(
    page,
    table((frequencyHz) => (frequencyHz >= 2000 ? 50 : 70)),
  )
  const link = await linkOf(page)
  const [address = '', text = ''] = link.split('#')
  const heard = listen(page)
  const sent = page.locator('.figure.sent')
  await page.goto(address)
  await expect(sent).toContainText('There is no measurement in this address')
  for (const [bad, words] of [
    [text.slice(0, 200), 'cut short'],
    [`${text.slice(0, 100)}${text[100] === 'A' ? 'B' : 'A'}${text.slice(101)}`, 'changed on its way'],
    [`9${text.slice(1)}`, 'newer version'],
    ['something', 'no measurement that this page can read'],
  ] as const) {
    await page.evaluate((hash) => {
      location.hash = hash
    }, bad)
    await expect(sent.getByRole('alert')).toContainText(words)
    await expect(sent.locator('.sentence')).toHaveCount(0)
  }
  // 200 damaged links, one after the other: each is told or shown, and the page lives on.
  const random = seededRandom(21)
  const damaged = Array.from({ length: 200 }, () => {
    const at = Math.floor(random() * text.length)
    return `${text.slice(0, at)}${'Az09-_.%<"'[Math.floor(random() * 10)]}${text.slice(at + Math.floor(random() * 3))}`
  })
  await page.evaluate(async (all) => {
    for (const hash of all) {
      location.hash = hash
      await new Promise(requestAnimationFrame)
    }
  }, damaged)
  await page.evaluate((hash) => {
    location.hash = hash
  }, text)
  await expect(sent.getByRole('alert')).toHaveCount(0)
  await expect(sent.locator('.sentence')).toHaveText(/^No: there is hardly any difference in the bass\./, longWork)
  expect(heard).toEqual([])
})

test('the file of a microphone changes the levels by what it says, is kept, and goes away again', async ({ page }) => {
  test.setTimeout(300_000)
  await measureByTable(
    page,
    table(() => 70),
  )
  const files = part(page, 'match').getByRole('group', { name: 'Files of the microphones' })
  const choose = (text: string, name = 'behind.txt') =>
    files
      .getByLabel('Choose a file for the microphone behind')
      .and(page.locator('input'))
      .setInputFiles({ name, mimeType: 'text/plain', buffer: Buffer.from(text) })
  await files.getByText('Files of the microphones').click()
  await choose('20 0\n50 flat', 'bad.txt')
  await expect(files).toContainText('bad.txt was not taken. Line 2')
  await choose('* made up\n40 -6\n160 -6\n200 3\n8000 3')
  await expect(files).toContainText('Behind: behind.txt, from 40 Hz to 8 kHz.')
  await expect(files).not.toContainText('bad.txt')

  await verdict(page).getByText('table', { exact: true }).click()
  const row = (band: string) =>
    verdict(page)
      .getByRole('row')
      .filter({ has: page.getByRole('cell', { name: band, exact: true }) })
  const behind = (band: string) => row(band).getByRole('cell').nth(2)
  await expect(behind('100')).toHaveText('76.0')
  await expect(behind('1000')).toHaveText('67.0')
  await expect(behind('25')).toHaveText('70.0')
  await expect(behind('16000')).toHaveText('70.0')
  await expect(row('100').getByRole('cell').nth(1)).toHaveText('70.0')
  await expect(verdict(page)).toContainText(
    'The microphone behind was corrected by its file behind.txt, which reaches from 40 Hz to 8 kHz. What lies outside is not corrected: 25 Hz, 31.5 Hz, 10 kHz, 12.5 kHz and 16 kHz.',
  )
  await expectAccessible(page, '[data-step=match]')

  await page.reload()
  await wakeFigures(page)
  await expect(files).toContainText('Behind: behind.txt')
  await files.getByRole('button', { name: 'remove' }).click()
  await expect(files).not.toContainText('behind.txt')
  await verdict(page).getByText('table', { exact: true }).click()
  await expect(behind('100')).toHaveText('70.0')
  await expect(verdict(page)).not.toContainText('was corrected by its file')
})
