// The walk with the phone: a device that plays a known file from the front to another place, a practice without a device, and what the
// device keeps, old or broken.
import { readFile } from 'node:fs/promises'
import { expect, type Page } from '@playwright/test'
import { recordingBands } from '../../src/acoustics/measuring/recording-bands.ts'
import { inverseRealDft, realDft } from '../../src/acoustics/signals/dft.ts'
import { pinkNoise } from '../../src/acoustics/signals/pink-noise.ts'
import { bassHz, trebleHz } from '../../src/engine/scene/third-octaves.ts'
import { type KeptWalk, walksKey } from '../../src/widgets/phone-walk/kept-walks.ts'
import { aWalk } from '../unit/widgets/phone-walk/walk-fixture.ts'
import { expectAccessible, expectNoSidewaysScroll, listen, longWork, wakeFigures } from './page-checks.ts'
import { failingMicrophones, openTracks, playedAsMicrophone, watchTracks } from './played-device.ts'
import { test } from './test.ts'

const sampleRateHz = 48000
/** What the other place has less than the front, dB: below 500 Hz, and above. */
const less = { bass: 1, treble: 18 }
/** How long the file has nothing but the quiet, then the front, then the other place, s. */
const lastsS = { quiet: 25, front: 45, here: 60 }

/** So long is the noise before it comes again: what is heard of a whole number of them has no scatter, whenever it begins. */
const periodS = 1

/** Pink noise of a level, another above 500 Hz. */
function made(seconds: number, lowDb: number, highDb: number): Float32Array {
  const samples = pinkNoise({ sampleRateHz, durationS: periodS, seed: 1 })
  const { re, im } = realDft(samples)
  const edge = (500 * samples.length) / sampleRateHz
  for (let k = 0; k < re.length; k++) {
    const gain = 10 ** ((k < edge ? lowDb : highDb) / 20)
    re[k] = (re[k] as number) * gain
    im[k] = (im[k] as number) * gain
  }
  const period = inverseRealDft({ re, im }, samples.length)
  return Float32Array.from({ length: seconds * sampleRateHz }, (_, n) => period[n % period.length] as number)
}
const whole = [
  made(lastsS.quiet, -60, -60),
  made(lastsS.front, 0, 0),
  made(lastsS.here, -less.bass, -less.treble),
].reduce((before, part) => {
  const both = new Float32Array(before.length + part.length)
  both.set(before)
  both.set(part, before.length)
  return both
})
test.use({ launchOptions: playedAsMicrophone('front-then-here.wav', sampleRateHz, [whole]) })

async function open(page: Page) {
  await watchTracks(page)
  await page.goto('/walk/')
  await wakeFigures(page)
}
const press = (page: Page, name: string) => page.getByRole('button', { name, exact: true }).click()
const steps = (page: Page) => page.getByRole('group', { name: 'Listening' })
const live = (page: Page) => page.getByRole('group', { name: 'Here and now' })
const place = (page: Page, name: string) =>
  page.locator('.place').filter({ has: page.getByRole('heading', { name, exact: true }) })
const kept = (page: Page): Promise<KeptWalk[]> =>
  page.evaluate((key) => JSON.parse(localStorage.getItem(key) ?? '{"walks":[]}').walks, walksKey)
/** Puts walks where the page finds them. */
const store = (page: Page, text: string) =>
  page.addInitScript(
    ([key, value]) => localStorage.getItem(key as string) ?? localStorage.setItem(key as string, value as string),
    [walksKey, text],
  )

/** Middle of the differences, here less front, of the bands of a range, dB. */
function heardDb({ fronts, places }: KeptWalk, { from, to }: { from: number; to: number }): number {
  const differences = recordingBands.flatMap(({ nominalHz }, band) => {
    const [front, here] = [fronts[0]?.levels[band], places[0]?.heard.levels[band]]
    return front && here && nominalHz >= from && nominalHz <= to ? [here.levelDb - front.levelDb] : []
  })
  return differences.reduce((sum, difference) => sum + difference, 0) / differences.length
}

test('from the front to another place: the live sentence says the known difference, and what is marked is kept', async ({
  page,
}) => {
  test.setTimeout(420_000)
  const heard = listen(page)
  await page.setViewportSize({ width: 390, height: 844 })
  await open(page)
  // Off until it is pressed, and what a phone cannot do comes before it.
  expect(await page.evaluate(() => window.heldTracks.length)).toBe(0)
  const [limits, button] = await Promise.all(
    [page.locator('.limits'), page.getByRole('button', { name: 'Turn the microphone on' })].map((each) =>
      each.boundingBox(),
    ),
  )
  expect(limits && button && limits.y < button.y).toBe(true)

  await press(page, 'Turn the microphone on')
  await press(page, 'Hold the quiet')
  await expect(steps(page)).toContainText('Holding the quiet')
  await expect(steps(page)).toContainText('The quiet is held', longWork)
  await expect
    .poll(async () => Number(await steps(page).locator('[data-peak-db]').getAttribute('data-peak-db')), longWork)
    .toBeGreaterThan(-25)
  await press(page, 'Hold the front')
  await expect(steps(page)).toContainText('sure to ±', longWork)
  await expect(live(page)).toBeVisible(longWork)
  await expect(live(page).locator('.here')).toContainText('as loud', longWork)
  await expect(live(page).locator('.here')).toContainText('1 dB quieter than in front, treble 18 dB quieter', longWork)
  await expect(live(page).locator('.here')).toContainText(/Sure to about ±[12] dB/)
  await expect(live(page).locator('.state')).toHaveText('Live: the last 5 seconds.')
  // Read at arm's length.
  const sizePx = await live(page)
    .locator('.here')
    .evaluate((sentence) => Number.parseFloat(getComputedStyle(sentence).fontSize))
  expect(sizePx).toBeGreaterThanOrEqual(28)
  const axisPx = await live(page)
    .locator('svg text')
    .first()
    .evaluate((text) => Number.parseFloat(getComputedStyle(text).fontSize))
  expect(axisPx).toBeGreaterThanOrEqual(16)

  await page.getByLabel('This place is called').fill('behind the bar')
  await press(page, 'Mark it')
  await expect(steps(page)).toContainText('Holding “behind the bar”')
  await expect(steps(page).locator('.marked')).toContainText(
    'Marked “behind the bar”. Bass here is 1 dB quieter',
    longWork,
  )
  await expectAccessible(page, '.phone')
  await expectNoSidewaysScroll(page, [320, 390, 1280])
  const [walk] = await kept(page)
  if (!walk) throw new Error('no walk was kept')
  // Where a device loses a moment of the sound, a band of the bass is off by some tenths of a decibel.
  expect(Math.abs(heardDb(walk, bassHz) + less.bass)).toBeLessThan(1)
  expect(Math.abs(heardDb(walk, trebleHz) + less.treble)).toBeLessThan(0.3)
  expect(walk.quiet).not.toBeNull()

  // Out of sight the microphone goes off; what was marked stays, and the walk goes on.
  await page.evaluate(() => {
    Object.defineProperty(document, 'hidden', { value: true, configurable: true })
    document.dispatchEvent(new Event('visibilitychange'))
  })
  await expect(page.locator('.problem')).toContainText('What you marked is kept')
  await expect.poll(() => openTracks(page)).toBe(0)
  await page.evaluate(() => Object.defineProperty(document, 'hidden', { value: false, configurable: true }))
  await page.getByRole('button', { name: /^Go on with “Walk of/ }).click()
  await expect(live(page).locator('.here')).toBeVisible(longWork)
  await press(page, 'turn the microphone off')
  await expect.poll(() => openTracks(page)).toBe(0)

  await page.reload()
  await wakeFigures(page)
  await expect(place(page, 'behind the bar').locator('.sentence')).toContainText('treble 18 dB quieter')
  await expect(place(page, 'behind the bar')).toContainText('Say how far and in which direction this place is')
  await place(page, 'behind the bar').getByLabel('distance').fill('2.5')
  await place(page, 'behind the bar').getByLabel('direction').fill('180')
  await place(page, 'behind the bar').getByLabel('direction').press('Enter')
  await expect(place(page, 'behind the bar')).toContainText('Predicted: bass', longWork)
  expect(heard).toEqual([])
})

test('the charts of one walk are read side by side: all have one range of levels', async ({ page }) => {
  await open(page)
  const numbers = page
    .locator('.place .walk-chart')
    .evaluateAll((charts) =>
      charts.map((chart) =>
        [...chart.querySelectorAll('text[data-spare][text-anchor="end"]')]
          .map(({ textContent }) => textContent)
          .join(' '),
      ),
    )
  const [first, ...others] = await numbers
  expect(first).toMatch(/^[−+\d ]+$/)
  expect(others.length).toBeGreaterThan(1)
  for (const other of others) expect(other).toBe(first)
})

test('a practice without a microphone: front, a place, the front again, and it can be deleted', async ({ page }) => {
  test.setTimeout(420_000)
  const heard = listen(page)
  await open(page)
  // Something is there at once.
  await expect(page.locator('.place').first().locator('.sentence')).toContainText('Bass here is')
  await press(page, 'practise without a microphone')
  await expect(steps(page)).toBeVisible(longWork)
  expect(await page.evaluate(() => window.heldTracks.length)).toBe(0)
  await press(page, 'Hold the front')
  await expect(live(page)).toBeVisible(longWork)
  await expect(live(page).locator('.here')).toContainText('as loud', longWork)
  // Nobody held the quiet, and that is told.
  await expect(live(page)).toContainText('The quiet was not held')
  await steps(page).getByLabel('at the auction tables').check()
  await expect(live(page).locator('.here')).toContainText(/treble \d dB quieter/, longWork)
  await page.getByLabel('This place is called').fill('tables')
  await press(page, 'Mark it')
  await expect(steps(page).locator('.marked')).toContainText('Marked “tables”', longWork)
  // Where it stands is known, so that it is predicted.
  await expect(place(page, 'tables')).toContainText('Predicted: bass', longWork)
  await steps(page).getByLabel('in front, noise plays').check()
  await press(page, 'Hold the front again')
  await expect(steps(page).locator('.drift')).toContainText('Held in front again: as it was', longWork)
  const [walk] = await kept(page)
  expect(walk).toMatchObject({ isPractice: true, places: [{ name: 'tables', front: 0, angleDeg: 180 }] })
  expect(walk?.fronts).toHaveLength(2)
  await press(page, 'end the practice')
  await expect(steps(page)).toHaveCount(0)

  await press(page, 'delete this walk')
  await press(page, 'press again to delete this walk for good')
  await expect(page.getByRole('heading', { name: /^A walk that was done/ })).toBeVisible()
  expect(await kept(page)).toEqual([])
  expect(heard).toEqual([])
})

test('walks go out as JSON and CSV, and come in again; a file that is none is refused in words', async ({ page }) => {
  await store(page, JSON.stringify({ version: 1, walks: [aWalk()] }))
  await open(page)
  await expect(page.getByRole('heading', { name: 'soundcheck' })).toBeVisible()
  const save = async (name: string) => {
    const saved = page.waitForEvent('download')
    await press(page, name)
    return readFile(await (await saved).path(), 'utf8')
  }
  const json = await save('save all walks as a file (JSON)')
  expect(JSON.parse(json)).toEqual({ version: 1, walks: [aWalk()] })
  expect((await save('save the bands of this walk (CSV)')).split('\r\n')).toHaveLength(1 + 2 * 29 + 1)

  await place(page, 'door, left').getByRole('button', { name: 'remove “door, left”' }).click()
  await place(page, 'door, left').getByRole('button', { name: 'press again to remove “door, left”' }).click()
  await expect(page.locator('.place')).toHaveCount(1)
  await press(page, 'delete this walk')
  await press(page, 'press again to delete this walk for good')
  const choose = (text: string) =>
    page
      .locator('input[type=file]')
      .setInputFiles({ name: 'walks.json', mimeType: 'application/json', buffer: Buffer.from(text) })
  const note = page.locator('.keep [role=status]')
  for (const [text, words] of [
    ['front,here', 'no JSON'],
    ['{"version":9,"walks":[]}', 'newer version'],
    ['{"version":1,"walks":[{"key":"a"}]}', 'Walk 1 of the file is not whole'],
  ] as const) {
    await choose(text)
    await expect(note).toContainText(words)
    expect(await kept(page)).toEqual([])
  }
  await choose(json)
  await expect(note).toHaveText('One walk was added.')
  await expect(page.locator('.place')).toHaveCount(2)
  await choose(json)
  await expect(note).toHaveText('Every walk of the file was here already.')
})

test('a name or a distance that cannot be is said beside it, and the last good one stays', async ({ page }) => {
  await store(page, JSON.stringify({ version: 1, walks: [aWalk()] }))
  await open(page)
  const bar = place(page, 'behind the bar')
  const name = bar.getByLabel('name of the place')
  await name.fill('  ')
  await name.press('Enter')
  await expect(bar).toContainText('A name has 1 to 60 letters.')
  const distance = bar.getByLabel('distance')
  await distance.fill('0')
  await distance.press('Enter')
  await expect(bar.locator('.error')).toContainText('Allowed: 0.1 m to 100 m')
  expect((await kept(page))[0]?.places[0]).toMatchObject({ name: 'behind the bar', distanceM: 4 })
  // A place where nobody can be has no prediction, and says so.
  await distance.fill('0.1')
  await distance.press('Enter')
  await expect(bar).toContainText('Nobody can stand there', longWork)
})

for (const [title, text, words] of [
  ['that are no JSON', 'nonsense', 'cannot be read'],
  ['of a form that never was', '{"walks":3}', 'cannot be read'],
  ['of a newer page', '{"version":5,"walks":[]}', 'newer version'],
  ['of which one is broken', JSON.stringify({ version: 1, walks: [aWalk(), { key: 'x' }] }), 'One walk on this device'],
] as const) {
  test(`stored walks ${title} are told, and the page goes on`, async ({ page }) => {
    const heard = listen(page)
    await store(page, text)
    await open(page)
    await expect(page.locator('.notices')).toContainText(words)
    await expect(page.locator('.place').first()).toBeVisible()
    expect(await page.evaluate((key) => localStorage.getItem(key), walksKey)).toBe(text)
    expect(heard).toEqual([])
  })
}

test('two tabs that change one walk lose neither change, and each shows both', async ({ context }) => {
  const [one, other] = [await context.newPage(), await context.newPage()]
  for (const page of [one, other]) {
    await store(page, JSON.stringify({ version: 1, walks: [aWalk()] }))
    await page.goto('/walk/')
    await wakeFigures(page)
  }
  const change = async (page: Page, of: string, value: string) => {
    const field = place(page, 'behind the bar').getByLabel(of)
    await field.fill(value)
    await field.press('Enter')
  }
  await Promise.all([change(one, 'distance', '7'), change(other, 'direction', '-120')])
  for (const page of [one, other]) {
    const bar = place(page, 'behind the bar')
    await expect(bar.getByLabel('distance')).toHaveValue('7')
    await expect(bar.getByLabel('direction')).toHaveValue(/^[-−]120$/)
  }
  expect((await kept(one))[0]?.places[0]).toMatchObject({ distanceM: 7, angleDeg: -120 })
})

for (const [title, spoil, words] of [
  ...failingMicrophones,
  [
    'a browser that cannot take sound in',
    () => Reflect.deleteProperty(window, 'AudioWorkletNode'),
    'This browser cannot listen in a page.',
  ],
] as const) {
  test(`${title} is said in place, and the practice still goes`, async ({ page }) => {
    await page.addInitScript(spoil)
    await page.goto('/walk/')
    await wakeFigures(page)
    await press(page, 'Turn the microphone on')
    await expect(page.locator('.problem')).toContainText(words)
    await expect(page.getByRole('button', { name: 'Turn the microphone on' })).toBeEnabled()
    await press(page, 'practise without a microphone')
    await expect(steps(page)).toBeVisible(longWork)
  })
}

test('a browser that keeps its processing on is found out, and the walk says so', async ({ page }) => {
  await page.addInitScript(() => {
    const settingsOf = MediaStreamTrack.prototype.getSettings
    MediaStreamTrack.prototype.getSettings = function (this: MediaStreamTrack) {
      const { noiseSuppression: _, ...rest } = settingsOf.call(this)
      return { ...rest, autoGainControl: true }
    }
  })
  await open(page)
  await press(page, 'Turn the microphone on')
  await expect(steps(page).locator('.warning').first()).toContainText('The browser keeps automatic gain on')
  await expect(steps(page).locator('.warning').nth(1)).toContainText('does not tell whether noise suppression is off')
})
