import { defineConfig, devices } from '@playwright/test'
import { baseURL, port } from './browser/readers.ts'

const executablePath = process.env['CHROMIUM_PATH']

const chromium = {
  launchOptions: {
    ...(executablePath ? { executablePath } : {}),
    // No sandbox: continuous integration runs as root. No background networking: the site needs none.
    args: ['--no-sandbox', '--disable-gpu', '--disable-background-networking', '--disable-component-update'],
  },
}
const inRealTime = ['compare-live', 'phone-walk', 'box-or-hall-live'].map((name) => `**/${name}.spec.ts`)

export default defineConfig({
  testDir: './browser',
  outputDir: './results/playwright',
  fullyParallel: true,
  forbidOnly: true,
  retries: 0,
  // One of them for what runs in real time, which leaves a core idle.
  workers: 3,
  // A reader waits; a test on a busy machine must too. What is slow shows in the report, not as a failure.
  timeout: 120_000,
  expect: { timeout: 30_000 },
  use: {
    ...devices['Desktop Chrome'],
    baseURL,
    // Waves stand still: running ones take a fifth of a core. In the specs of the figures that have some they run.
    contextOptions: { reducedMotion: 'reduce' },
    // Nothing is kept on the device: what a test changes of an answer, it changes for the page. offline.spec.ts lets it be kept.
    serviceWorkers: 'block',
  },
  projects: [
    // First, and one after the other, beside the rest: recordings of a minute and more.
    { name: 'in real time', testMatch: inRealTime, workers: 1, use: chromium },
    { name: 'chromium', testIgnore: inRealTime, workers: 2, use: chromium },
  ],
  webServer: {
    command: `node src/tools/serve.mjs tests/results/site ${port}`,
    cwd: new URL('..', import.meta.url).pathname,
    url: `http://localhost:${port}/`,
    reuseExistingServer: false,
  },
})
