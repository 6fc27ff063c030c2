// The test with two microphones: from recordings to a sentence, and nothing that was measured is lost.
import { readFile } from 'node:fs/promises'
import { expect, type Page } from '@playwright/test'
import { pinkNoise } from '../../src/acoustics/signals/pink-noise.ts'
import { writeWav } from '../../src/acoustics/signals/write-wav.ts'
import { expectAccessible, expectNoSidewaysScroll, listen, longWork, wakeFigures } from './page-checks.ts'
import { test } from './test.ts'

const steps = ['match', 'quiet', 'sound'] as const
type Step = (typeof steps)[number]

const sampleRateHz = 32000
const noise = (seed: number, gain: number) =>
  pinkNoise({ sampleRateHz, durationS: 12, seed }).map((sample) => gain * sample)
/** Every second sample and its neighbour averaged, many times over: the treble goes, the bass stays. */
const muffled = (samples: Float32Array) => {
  let out = samples
  for (let round = 0; round < 24; round++)
    out = out.map((sample, at) => (sample + (out[at - 1] ?? 0)) / 2) as Float32Array<ArrayBuffer>
  return out
}
const wav = (name: string, channels: Float32Array[]) => ({
  name,
  mimeType: 'audio/wav',
  buffer: Buffer.from(writeWav({ sampleRateHz, channels }, 'pcm16')),
})

const part = (page: Page, step: Step | 'verdict') =>
  step === 'verdict' ? page.locator('.step.verdict') : page.locator(`.step[data-step=${step}]`)
const done = (page: Page, step: Step) => expect(part(page, step)).toHaveClass(/done/, longWork)
const file = (page: Page, step: Step, name: string) => part(page, step).getByLabel(name).and(page.locator('input'))
const sentence = (page: Page) => page.locator('.step.verdict .sentence')

async function open(page: Page) {
  await page.goto('/compare/')
  await wakeFigures(page)
}
async function practise(page: Page, step: Step) {
  await part(page, step).getByRole('button', { name: 'Use the practice recording' }).click()
  await done(page, step)
}

test('with the practice set, down to the sentence; what was measured stays, goes out and comes in', async ({
  page,
}) => {
  test.setTimeout(400_000)
  const heard = listen(page)
  await open(page)
  // One next step at a time.
  await expect(page.locator('button.primary')).toHaveCount(1)
  for (const step of steps) await practise(page, step)
  await part(page, 'sound').getByLabel('no', { exact: true }).check()
  await expect(sentence(page)).toHaveText(
    /^No: there is hardly any difference in the bass\. The treble is missing/,
    longWork,
  )
  await expectAccessible(page)
  await expectNoSidewaysScroll(page, [320, 390, 1280])

  // Both are heard, one at a time.
  await part(page, 'verdict').getByRole('button', { name: 'Play in front' }).click()
  await part(page, 'verdict').getByRole('button', { name: 'Play behind' }).click()
  await expect(part(page, 'verdict').locator('[aria-pressed=true]')).toHaveText('Stop')
  await page.keyboard.press('Escape')
  await expect(part(page, 'verdict').locator('[aria-pressed=true]')).toHaveCount(0)

  const saved = page.waitForEvent('download')
  await page.getByRole('button', { name: 'Save the test as a file' }).click()
  const kept = await readFile(await (await saved).path(), 'utf8')

  await page.reload()
  await wakeFigures(page)
  await expect(sentence(page)).toHaveText(/^No: there is hardly any/, longWork)

  // A new beginning asks first.
  await page.getByRole('button', { name: 'Start the test again' }).click()
  await expect(sentence(page)).toBeVisible()
  await page.getByRole('button', { name: 'Press again' }).click()
  await expect(sentence(page)).toHaveCount(0)

  const input = page.getByLabel('Open a saved test').and(page.locator('input'))
  await input.setInputFiles({ name: 'x.json', mimeType: 'application/json', buffer: Buffer.from('{"version":1}') })
  await expect(page.getByText('your test is as it was')).toBeVisible()
  await input.setInputFiles({ name: 'test.json', mimeType: 'application/json', buffer: Buffer.from(kept) })
  await expect(sentence(page)).toHaveText(/^No: there is hardly any/, longWork)
  const again = page.waitForEvent('download')
  await page.getByRole('button', { name: 'Save the test as a file' }).click()
  expect(JSON.parse(await readFile(await (await again).path(), 'utf8'))).toEqual(JSON.parse(kept))
  expect(heard).toEqual([])
})

test('with files of one’s own; a bad one is named, and the other steps stay', async ({ page }) => {
  test.setTimeout(300_000)
  await open(page)
  const stereo = 'Choose the stereo recording'
  await file(page, 'match', stereo).setInputFiles(wav('match.wav', [noise(1, 0.5), noise(1, 0.5)]))
  await done(page, 'match')

  for (const [bad, words] of [
    [
      { name: 'notes.wav', mimeType: 'audio/wav', buffer: Buffer.from('a shopping list, and more of it') },
      'plain text',
    ],
    [{ name: 'nothing.wav', mimeType: 'audio/wav', buffer: Buffer.alloc(0) }, 'empty'],
    [wav('one.wav', [noise(2, 0.001)]), 'one channel'],
    [wav('short.wav', [noise(2, 0.1).subarray(0, 32000), noise(2, 0.1).subarray(0, 32000)]), 'lasts 1 s'],
  ] as const) {
    await file(page, 'quiet', stereo).setInputFiles(bad)
    await expect(part(page, 'quiet').locator('.state')).toContainText(bad.name)
    await expect(part(page, 'quiet').locator('.state')).toContainText(words)
    await expect(part(page, 'match')).toHaveClass(/done/)
  }
  await part(page, 'quiet').getByRole('button', { name: 'Pass over' }).click()
  await done(page, 'quiet')

  // In turns: two files, one place each.
  await part(page, 'sound').getByLabel('one after the other').check()
  await file(page, 'sound', 'Choose the recording in front').setInputFiles(wav('front.wav', [noise(3, 0.5)]))
  await expect(part(page, 'sound')).toContainText('There is: front.wav.', longWork)
  await file(page, 'sound', 'Choose the recording behind').setInputFiles(wav('behind.wav', [muffled(noise(4, 0.5))]))
  await done(page, 'sound')
  await expect(part(page, 'sound')).toContainText('In front: front.wav. Behind: behind.wav.')
  await expect(sentence(page)).toContainText('The treble is missing there.', longWork)
  await expect(part(page, 'verdict')).toContainText('none is taken off')
})

test('a table of band levels is taken, and one with letters names its line', async ({ page }) => {
  test.setTimeout(300_000)
  await open(page)
  for (const step of ['match', 'quiet'] as const)
    await part(page, step).getByRole('button', { name: 'Pass over' }).click()
  await part(page, 'sound').getByLabel('as numbers').check()
  const paste = part(page, 'sound').getByLabel('Or paste the table here')
  await paste.fill('25;60;60\n31,5;sixty;60')
  await part(page, 'sound').getByRole('button', { name: 'Take these numbers' }).click()
  await expect(part(page, 'sound').locator('.state')).toContainText('Line 2')
  const bands = [25, 31.5, 40, 50, 63, 80, 100, 125, 160, 200, 250, 315, 400, 500, 630, 800, 1000, 1250, 1600, 2000]
  const treble = [2500, 3150, 4000, 5000, 6300, 8000, 10000, 12500, 16000]
  const rows = [...bands.map((band) => `${band},70,70`), ...treble.map((band) => `${band},70,50`)]
  await paste.fill(rows.join('\n'))
  await part(page, 'sound').getByRole('button', { name: 'Take these numbers' }).click()
  await done(page, 'sound')
  await expect(sentence(page)).toHaveText(/^No: there is hardly any difference in the bass/, longWork)
  // Numbers have no sound.
  await expect(page.getByRole('button', { name: 'Play in front' })).toHaveCount(0)
})
