import { globSync } from 'node:fs'
import { basename } from 'node:path'
import { defineConfig, devices } from '@playwright/test'

const port = Number(process.env['PORT'] ?? 4399)
const baseURL = `http://localhost:${port}`
/** Lessons past their guess. */
const readOn = globSync(`${import.meta.dirname}/../content/lessons/*.mdx`).map(
  (file) => `lesson-${basename(file, '.mdx')}`,
)
const figures = ['steer', 'box', 'walk', 'wall', 'hall', 'column', 'horn', 'box-and-wave', 'stack', 'sound']
const opened = JSON.stringify([...figures, ...readOn])
const executablePath = process.env['CHROMIUM_PATH']

export default defineConfig({
  testDir: './browser',
  outputDir: './results/playwright',
  fullyParallel: true,
  forbidOnly: true,
  retries: 0,
  workers: 2,
  // A reader waits; a test on a busy machine must too. What is slow shows in the report, not as a failure.
  timeout: 120_000,
  expect: { timeout: 30_000 },
  use: {
    ...devices['Desktop Chrome'],
    baseURL,
    // A reader who has opened what each figure can be set to, and read on after each guess; what others meet is looked at in
    // calm.spec.ts and course.spec.ts.
    storageState: {
      cookies: [],
      origins: [{ origin: baseURL, localStorage: [{ name: 'round-the-back.opened', value: opened }] }],
    },
  },
  projects: [
    {
      name: 'chromium',
      use: {
        launchOptions: {
          ...(executablePath ? { executablePath } : {}),
          // No sandbox: continuous integration runs as root. No background networking: the site needs none.
          args: ['--no-sandbox', '--disable-gpu', '--disable-background-networking', '--disable-component-update'],
        },
      },
    },
  ],
  webServer: {
    command: `astro preview --silent --port ${port}`,
    cwd: new URL('..', import.meta.url).pathname,
    url: `http://localhost:${port}/`,
    reuseExistingServer: false,
  },
})
