// Sweeps recorded on the page, from a device that plays them over and over.
import { expect } from '@playwright/test'
import { sweepSignal, usualSweep } from '../../src/acoustics/measuring/sweep.ts'
import { expectAccessible, expectNoSidewaysScroll, listen, longWork, wakeFigures } from './page-checks.ts'
import { playedAsMicrophone } from './played-device.ts'
import { test } from './test.ts'

const sampleRateHz = 48000
/** What arrives behind of what arrives in front: 20 lg 4 = 12 dB less. */
const share = 0.25

const sweeps = sweepSignal(usualSweep, sampleRateHz, 0.5)
test.use({
  launchOptions: playedAsMicrophone('sweeps.wav', sampleRateHz, [sweeps, sweeps.map((sample) => share * sample)]),
})

test('both microphones at once: the sweeps are found in the recording, and it comes to the sentence', async ({
  page,
}) => {
  test.setTimeout(400_000)
  const heard = listen(page)
  await page.goto('/compare/')
  await wakeFigures(page)
  const part = page.locator('.step[data-step=sweep]')
  const press = (name: string) => part.getByRole('button', { name, exact: true }).click()
  await part.getByRole('button', { name: 'find out with a sweep' }).click()
  await part.getByLabel('here, with microphones on this device').check()
  await press('Turn the microphones on')
  await press('Record both')
  await expect(part).toContainText('Play the sweeps now.')
  // How sure an average is does not apply to sweeps.
  await expect(part).not.toContainText('Keep going')
  await expectAccessible(page, '.step.sweep')
  // Two that follow each other, wherever the device was when the recording began.
  await expect
    .poll(
      async () => {
        const [minutes = 0, seconds = 0] = ((await part.locator('.time').textContent())?.match(/(\d+):(\d+)$/) ?? [])
          .slice(1)
          .map(Number)
        return 60 * minutes + seconds
      },
      { timeout: 180_000 },
    )
    .toBeGreaterThanOrEqual(36)
  await press('Stop and take it')
  await expect(part.locator('.sentence')).toHaveText(
    /^The box\. By itself it sends 12 dB less treble behind than in front/,
    longWork,
  )
  await expect(part.getByRole('button', { name: 'save the recording as a WAV file' })).toBeVisible()
  await expectNoSidewaysScroll(page, [320, 390, 1280])
  expect(heard).toEqual([])
})
