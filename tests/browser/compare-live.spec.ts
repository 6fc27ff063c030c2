// The test with two microphones, recorded on the page: a device that plays a known file, and devices that fail.
import { readFile } from 'node:fs/promises'
import { expect, type Page } from '@playwright/test'
import { pinkNoise } from '../../src/acoustics/signals/pink-noise.ts'
import { readWav } from '../../src/acoustics/signals/read-wav.ts'
import { expectAccessible, expectNoSidewaysScroll, listen, longWork, wakeFigures } from './page-checks.ts'
import { failingMicrophones, openTracks, playedAsMicrophone, watchTracks } from './played-device.ts'
import { test } from './test.ts'

const sampleRateHz = 48000
/** What the second channel has of the first: a quarter, 20 lg 4 dB less. */
const share = 0.25
const lessDb = 20 * Math.log10(1 / share)
/** dB: the file's 16 bits and the browser's own arithmetic; the samples of both channels are otherwise the same. */
const limitDb = 0.05

const noise = pinkNoise({ sampleRateHz, durationS: 20, seed: 3 })
test.use({
  launchOptions: playedAsMicrophone('two-microphones.wav', sampleRateHz, [
    noise,
    noise.map((sample) => share * sample),
  ]),
})

type Step = 'match' | 'quiet' | 'sound'
const part = (page: Page, step: Step) => page.locator(`.step[data-step=${step}]`)
const press = (page: Page, step: Step, name: string) =>
  part(page, step).getByRole('button', { name, exact: true }).click()
const done = (page: Page, step: Step) => expect(part(page, step)).toHaveClass(/done/, longWork)
const level = (page: Page, step: Step, place: 'front' | 'behind' | 'one') =>
  part(page, step).locator(`.levels [data-place=${place}]`)
const peakDb = async (page: Page, step: Step, place: 'front' | 'behind' | 'one') =>
  Number(await level(page, step, place).getAttribute('data-peak-db'))
const problem = (page: Page, step: Step) => part(page, step).locator('.problem')

async function open(page: Page) {
  await watchTracks(page)
  await page.goto('/compare/')
  await wakeFigures(page)
}
async function chooseHere(page: Page, step: Step) {
  await part(page, step).getByLabel('here, with microphones on this device').check()
  await expect(part(page, step).getByRole('button', { name: 'Turn the microphones on' })).toBeVisible()
}
async function turnOn(page: Page, step: Step) {
  await press(page, step, 'Turn the microphones on')
  await expect(part(page, step).locator('.levels p').first()).toBeVisible()
}
/** Until a recording has so many seconds. */
const recordedFor = (page: Page, step: Step, seconds: number) =>
  expect
    .poll(async () => {
      const words = await part(page, step).locator('.time').textContent()
      const [minutes = 0, rest = 0] = (words?.match(/(\d+):(\d+)$/) ?? []).slice(1).map(Number)
      return 60 * minutes + rest
    }, longWork)
    .toBeGreaterThanOrEqual(seconds)
const pass = (page: Page, step: Step) => part(page, step).getByRole('button', { name: 'Pass over' }).click()

/** What the device keeps of a step. */
const keptStep = (page: Page, step: Step) =>
  page.evaluate((name) => JSON.parse(localStorage.getItem('round-the-back.compare') ?? '{}').steps[name], step)
type Kept = { levelDb: number; errorDb: number } | null

test('both microphones at once: their difference comes out as it is in the sound; the noise of the page plays on', async ({
  page,
}) => {
  test.setTimeout(300_000)
  const heard = listen(page)
  await open(page)
  await chooseHere(page, 'match')
  // Off until it is pressed.
  expect(await page.evaluate(() => window.heldTracks.length)).toBe(0)
  await press(page, 'match', 'Play pink noise here')
  await expect(part(page, 'match').getByRole('button', { name: 'Stop the pink noise' })).toBeVisible()
  await turnOn(page, 'match')
  await expect(level(page, 'match', 'front')).toContainText('In front: good, peak')
  await expect(level(page, 'match', 'behind')).toContainText('Behind: good, peak')
  await expect
    .poll(async () => (await peakDb(page, 'match', 'front')) - (await peakDb(page, 'match', 'behind')))
    .toBeCloseTo(lessDb, 1)
  await expect(part(page, 'match').locator('.warning')).toHaveCount(0)
  await expectAccessible(page, '.record')
  await expectNoSidewaysScroll(page, [320, 390, 1280])

  await press(page, 'match', 'Record both')
  await expect(page.locator('button.primary')).toHaveCount(1)
  const mark = part(page, 'match').locator('.record strong')
  await expect(mark).toHaveText(/^(Keep going|Enough)\.$/, longWork)
  await expectAccessible(page, '.record')
  await expect(mark).toHaveText('Enough.', longWork)
  await expect(part(page, 'match').getByRole('button', { name: 'Stop the pink noise' })).toBeVisible()
  await press(page, 'match', 'Stop and take it')
  await done(page, 'match')
  await expect.poll(() => openTracks(page)).toBe(0)

  const { takes } = await keptStep(page, 'match')
  const bands = (takes[0].paired as Kept[]).filter((band) => band !== null)
  expect(bands.length).toBe(29)
  for (const { levelDb } of bands) expect(Math.abs(levelDb - lessDb)).toBeLessThan(limitDb)

  // The sound of it can be kept.
  const saved = page.waitForEvent('download')
  await press(page, 'match', 'save the recording as a WAV file')
  const { channels, sampleRateHz: savedHz } = readWav(await readFile(await (await saved).path()))
  expect(channels).toHaveLength(2)
  // At the rate of the device, whatever that of the file is which it plays.
  expect(savedHz).toBe(takes[0].sampleRateHz)
  expect((channels[0]?.length ?? 0) / savedHz).toBeCloseTo(takes[0].durationS, 6)
  const rms = channels.map((samples) => Math.sqrt(samples.reduce((sum, x) => sum + x * x, 0) / samples.length))
  expect(20 * Math.log10((rms[0] ?? 0) / (rms[1] ?? 1))).toBeCloseTo(lessDb, 2)
  expect(heard).toEqual([])
})

test('the channels can be told to be the other way round, and the next step keeps to it', async ({ page }) => {
  test.setTimeout(300_000)
  await open(page)
  await pass(page, 'match')
  await chooseHere(page, 'quiet')
  await turnOn(page, 'quiet')
  await part(page, 'quiet')
    .getByRole('group', { name: 'Which channel is the microphone in front?' })
    .getByLabel('second (right)')
    .check()
  await expect
    .poll(async () => (await peakDb(page, 'quiet', 'behind')) - (await peakDb(page, 'quiet', 'front')))
    .toBeCloseTo(lessDb, 1)
  // Without the sound a low level is as it should be.
  await expect(level(page, 'quiet', 'front')).toContainText('Leave the input as it is.')
  await press(page, 'quiet', 'Record both')
  await recordedFor(page, 'quiet', 6)
  await press(page, 'quiet', 'Stop and take it')
  await done(page, 'quiet')
  const { takes } = await keptStep(page, 'quiet')
  const bands = (takes[0].paired as Kept[]).filter((band) => band !== null)
  expect(bands.length).toBe(29)
  for (const { levelDb } of bands) expect(Math.abs(levelDb + lessDb)).toBeLessThan(limitDb)
  await chooseHere(page, 'sound')
  await turnOn(page, 'sound')
  await expect(part(page, 'sound').getByLabel('second (right)')).toBeChecked()
})

test('one after the other: two takes, one place each, and what is too short is refused', async ({ page }) => {
  test.setTimeout(300_000)
  await open(page)
  await pass(page, 'match')
  await pass(page, 'quiet')
  await chooseHere(page, 'sound')
  await turnOn(page, 'sound')
  await part(page, 'sound').getByLabel('one, in turns').check()
  await expect(part(page, 'sound')).toContainText('In turns, whatever changes between the two takes')
  await press(page, 'sound', 'Record in front')
  await recordedFor(page, 'sound', 1)
  await press(page, 'sound', 'Stop and take it')
  await expect(part(page, 'sound').locator('.state')).toContainText('half a minute is a good start', longWork)
  // What was recorded is not lost.
  await expect(part(page, 'sound').getByRole('button', { name: 'save the recording in front' })).toBeVisible()

  await turnOn(page, 'sound')
  await press(page, 'sound', 'Record in front')
  await recordedFor(page, 'sound', 8)
  await press(page, 'sound', 'Stop and take it')
  await expect(part(page, 'sound')).toContainText('Carry the microphone behind', longWork)
  await turnOn(page, 'sound')
  await part(page, 'sound').getByLabel('second (right)').check()
  await press(page, 'sound', 'Record behind')
  await recordedFor(page, 'sound', 8)
  await press(page, 'sound', 'Stop and take it')
  await done(page, 'sound')
  const { takes } = await keptStep(page, 'sound')
  const [front, behind] = takes.map(({ channels }: { channels: { levels: Kept[] }[] }) => channels[0]?.levels)
  // Other seconds of the noise: each band wanders by its own error, their mean hardly.
  const differences = (front as Kept[]).flatMap((band, index) => {
    const other = (behind as Kept[])[index]
    return band && other ? [band.levelDb - other.levelDb] : []
  })
  expect(differences.length).toBe(29)
  const meanDb = differences.reduce((sum, difference) => sum + difference, 0) / differences.length
  expect(Math.abs(meanDb - lessDb)).toBeLessThan(0.5)
})

test('a device that goes in the middle leaves what was recorded', async ({ page }) => {
  test.setTimeout(300_000)
  await open(page)
  await chooseHere(page, 'match')
  await turnOn(page, 'match')
  // Gone before anything is recorded: said in place.
  await page.evaluate(() => window.heldTracks[0]?.dispatchEvent(new Event('ended')))
  await expect(problem(page, 'match')).toContainText('The microphone is gone')
  await turnOn(page, 'match')
  await expect(problem(page, 'match')).not.toContainText('gone')
  await press(page, 'match', 'Record both')
  await recordedFor(page, 'match', 6)
  await page.evaluate(() => window.heldTracks.at(-1)?.dispatchEvent(new Event('ended')))
  await done(page, 'match')
  await expect(part(page, 'match')).toContainText('The microphone went after 0:')
  await expect(part(page, 'match')).toContainText('What was recorded until then is kept.')
  expect(await openTracks(page)).toBe(0)
})

test('a recording outlasts another tab that finishes its step, and is not closed over', async ({ page }) => {
  test.setTimeout(300_000)
  await open(page)
  await pass(page, 'match')
  await part(page, 'match').getByRole('button', { name: 'do it again' }).click()
  await chooseHere(page, 'match')
  await turnOn(page, 'match')
  await press(page, 'match', 'Record both')
  await recordedFor(page, 'match', 2)
  await part(page, 'match').getByRole('button', { name: 'leave it as it is' }).click()
  await expect(part(page, 'match')).toContainText('A recording goes on here. Stop it first.')
  // Another tab does the same step meanwhile.
  await page.evaluate(() => {
    const key = 'round-the-back.compare'
    const test = JSON.parse(localStorage.getItem(key) ?? '{}')
    test.steps.match.skipped = false
    test.steps.quiet.skipped = true
    localStorage.setItem(key, JSON.stringify(test))
    dispatchEvent(new StorageEvent('storage', { key }))
    test.steps.match.skipped = true
    localStorage.setItem(key, JSON.stringify(test))
    dispatchEvent(new StorageEvent('storage', { key }))
  })
  await expect(part(page, 'quiet')).toHaveClass(/done/)
  await recordedFor(page, 'match', 8)
  await press(page, 'match', 'Stop and take it')
  await expect(part(page, 'match')).toContainText('From recording of', longWork)
  expect((await keptStep(page, 'match')).takes).toHaveLength(1)
  expect((await keptStep(page, 'quiet')).skipped).toBe(true)
})

test('the microphone is let go with the source, with the page out of sight, and by its own button', async ({
  page,
}) => {
  await open(page)
  await chooseHere(page, 'match')
  await turnOn(page, 'match')
  expect(await openTracks(page)).toBe(1)
  await press(page, 'match', 'turn it off')
  await expect.poll(() => openTracks(page)).toBe(0)

  await turnOn(page, 'match')
  await part(page, 'match').getByLabel('as numbers').check()
  await expect.poll(() => openTracks(page)).toBe(0)

  await chooseHere(page, 'match')
  await turnOn(page, 'match')
  await page.evaluate(() => {
    Object.defineProperty(document, 'hidden', { value: true, configurable: true })
    document.dispatchEvent(new Event('visibilitychange'))
  })
  await expect(problem(page, 'match')).toContainText('out of sight')
  expect(await openTracks(page)).toBe(0)
})

test('a browser that keeps its processing on is found out, and the recording says so', async ({ page }) => {
  test.setTimeout(300_000)
  await page.addInitScript(() => {
    const settingsOf = MediaStreamTrack.prototype.getSettings
    MediaStreamTrack.prototype.getSettings = function (this: MediaStreamTrack) {
      const { noiseSuppression: _, ...rest } = settingsOf.call(this)
      return { ...rest, autoGainControl: true }
    }
  })
  await open(page)
  await chooseHere(page, 'match')
  await turnOn(page, 'match')
  const warnings = part(page, 'match').locator('.warning')
  await expect(warnings.first()).toContainText('The browser keeps automatic gain on')
  await expect(warnings.nth(1)).toContainText('does not tell whether noise suppression is off')
  await press(page, 'match', 'Record both')
  await recordedFor(page, 'match', 6)
  await press(page, 'match', 'Stop and take it')
  await done(page, 'match')
  await expect(part(page, 'match')).toContainText('the browser kept processing on')
})

test('inputs that come are offered', async ({ page }) => {
  await open(page)
  await chooseHere(page, 'match')
  await turnOn(page, 'match')
  const list = part(page, 'match').locator('.record select')
  const before = await list.locator('option').count()
  expect(before).toBeGreaterThan(0)
  await page.evaluate(() => {
    const { mediaDevices } = navigator
    const all = mediaDevices.enumerateDevices.bind(mediaDevices)
    mediaDevices.enumerateDevices = async () => [
      ...(await all()),
      { kind: 'audioinput', deviceId: 'new', groupId: '', label: 'Stage box', toJSON: () => '' },
    ]
    mediaDevices.dispatchEvent(new Event('devicechange'))
  })
  await expect(list.locator('option')).toHaveCount(before + 1)
  // One that is listed and not there.
  await list.selectOption('Stage box')
  await expect(problem(page, 'match')).toContainText('The microphone is gone')
  await turnOn(page, 'match')
})

for (const [title, spoil, words] of [
  ...failingMicrophones,
  [
    'a microphone that another program has',
    () => {
      navigator.mediaDevices.getUserMedia = () => Promise.reject(new DOMException('no', 'NotReadableError'))
    },
    'Another program has the microphone',
  ],
  [
    'a browser that cannot take sound in',
    () => Reflect.deleteProperty(window, 'AudioWorkletNode'),
    'This browser cannot record in a page.',
  ],
] as const) {
  test(`${title} is said in place, and everything else goes on`, async ({ page }) => {
    await page.addInitScript(spoil)
    await page.goto('/compare/')
    await wakeFigures(page)
    await pass(page, 'match')
    await chooseHere(page, 'quiet')
    await press(page, 'quiet', 'Turn the microphones on')
    await expect(problem(page, 'quiet')).toContainText(words)
    await expect(part(page, 'match')).toHaveClass(/done/)
    await expect(part(page, 'quiet').getByRole('button', { name: 'Turn the microphones on' })).toBeEnabled()
    await part(page, 'quiet').getByLabel('both at once').check()
    await expect(part(page, 'quiet').getByRole('button', { name: 'Choose the stereo recording' })).toBeEnabled()
  })
}

test('code that does not come is said in place, and fetched again on the next press', async ({ page }) => {
  // What the sound's own thread fetches cannot be cut off from here: the browser says that it did not come.
  await page.addInitScript(() => {
    const add = AudioWorklet.prototype.addModule
    let failed = false
    AudioWorklet.prototype.addModule = function (...given) {
      if (failed) return add.apply(this, given)
      failed = true
      return Promise.reject(new DOMException('no', 'AbortError'))
    }
  })
  await open(page)
  await chooseHere(page, 'match')
  await press(page, 'match', 'Turn the microphones on')
  await expect(problem(page, 'match')).toContainText('could not be fetched')
  expect(await openTracks(page)).toBe(0)
  await turnOn(page, 'match')
})
