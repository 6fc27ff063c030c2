// npm run pictures: builds the site and takes the pictures of it that README.md shows, into content/pictures. Wants a Chromium, as npm test
// does. With a folder (npm run pictures -- dist) it takes them of the site that has been built there.
import { mkdirSync, writeFileSync } from 'node:fs'
import { join, relative } from 'node:path'
import { chromium } from '@playwright/test'
import sharp from 'sharp'
import { browserEnvironment } from './browser.mjs'
import { serve } from './serve.mjs'
import { projectRoot, run, setUp, stop } from './set-up.mjs'

/** Name of the file → the page, how wide and high its window is, px, and whether it is read at night. */
const pictures = [
  { name: 'walk-round', path: '/?walk.v=1&walk.angleDeg=150&walk.distanceM=4', window: [1280, 860] },
  { name: 'plan', path: '/plan/', window: [1280, 1100] },
  { name: 'walk-round-phone', path: '/?walk.v=1&walk.angleDeg=150&walk.distanceM=4', window: [390, 844], dark: true },
  { name: 'answer-phone', path: '/answers/why-is-our-table-boomy/', window: [390, 844] },
]
/** Pixels of the picture for one of the window. */
const density = 2
/** Of the picture's form, 0 … 100: letters stay sharp. */
const quality = 76

await setUp()
const environment = (await browserEnvironment()) ?? stop('There is no browser to take pictures with.')
const [given] = process.argv.slice(2)
if (!given && (await run('astro', ['build', '--silent'])) !== 0)
  stop('The site could not be built; the lines above say why.')
const { server, port } = await serve(given ?? join(projectRoot, 'dist'), 4370, { orNext: true })
const browser = await chromium.launch({
  executablePath: environment.CHROMIUM_PATH,
  args: ['--no-sandbox', '--disable-gpu', '--disable-background-networking'],
})
const folder = join(projectRoot, 'content', 'pictures')
mkdirSync(folder, { recursive: true })
try {
  for (const {
    name,
    path,
    window: [width, height],
    dark,
  } of pictures) {
    const context = await browser.newContext({
      viewport: { width, height },
      deviceScaleFactor: density,
      colorScheme: dark ? 'dark' : 'light',
      reducedMotion: 'reduce',
    })
    const page = await context.newPage()
    await page.goto(`http://localhost:${port}${path}`)
    await page.waitForLoadState('networkidle')
    // Every answer is there, and every picture.
    await page.waitForFunction(
      () => !document.querySelector('.figure .old') && !document.body.textContent.includes('Computing'),
    )
    const file = join(folder, `${name}.webp`)
    writeFileSync(
      file,
      await sharp(await page.screenshot())
        .webp({ quality })
        .toBuffer(),
    )
    console.log(relative(projectRoot, file))
    await context.close()
  }
} finally {
  await browser.close()
  server.close()
}
