// What all drawings and pages share: one grid, one size of type, a drawing that leaves room for what it says, keys.
import { expect, type Page } from '@playwright/test'
import { builtPages } from './built-pages.ts'
import { framesPass, wakeFigures } from './page-checks.ts'
import { hasOpenedAll, hasReadOn } from './readers.ts'
import { test } from './test.ts'

test.use({ kept: hasReadOn })

const setSize = async (page: Page, width: number, height: number) => {
  await page.setViewportSize({ width, height })
  await page.waitForFunction(([x, y]) => innerWidth === x && innerHeight === y, [width, height])
  await framesPass(page, 3)
}

/** Every drawing that is seen: its name, its height and the sizes of its type on the screen, px. */
const drawings = (page: Page) =>
  page.evaluate(() =>
    [...document.querySelectorAll<SVGSVGElement>('main svg')]
      .filter((svg) => svg.checkVisibility() && svg.querySelector('text, path'))
      .map((svg) => ({
        name: svg.getAttribute('aria-label') ?? svg.parentElement?.className ?? '',
        height: svg.getBoundingClientRect().height,
        sizes: [...svg.querySelectorAll('text')].map((text) => {
          const { a = 1, b = 0 } = text.getScreenCTM() ?? {}
          return Number.parseFloat(getComputedStyle(text).fontSize) * Math.hypot(a, b)
        }),
      })),
  )

for (const path of builtPages)
  test(`${path} keeps one grid and one size of type, and no drawing fills the window`, async ({ page }) => {
    await setSize(page, 1280, 800)
    await page.goto(path)
    await wakeFigures(page)
    const edges = await page.evaluate(() => {
      // Notes in the margin hang beside the words, and what a grid's further columns hold is no edge of the page.
      const blocks = [...document.querySelectorAll('main > *, main .prose > *, main astro-island > *')]
      return [
        ...new Set(
          blocks
            .filter(
              (block) =>
                block.matches(':not(.note, .visually-hidden, .prose, script, style, astro-island)') &&
                !block.closest('.tried') &&
                block.checkVisibility() &&
                block.getBoundingClientRect().height > 0,
            )
            .map((block) => Math.round(block.getBoundingClientRect().left)),
        ),
      ]
    })
    expect(edges.length, `left edges ${edges}`).toBeLessThanOrEqual(2)
    for (const [width, height] of [
      [1280, 800],
      [844, 390],
      [390, 844],
    ] as const) {
      await setSize(page, width, height)
      for (const { name, height: drawn, sizes } of await drawings(page)) {
        expect.soft(drawn, `${name} at ${width} × ${height}`).toBeLessThanOrEqual(0.7 * height + 1)
        for (const size of sizes) {
          expect.soft(size, `type of ${name} at ${width}`).toBeGreaterThanOrEqual(11.5)
          expect.soft(size, `type of ${name} at ${width}`).toBeLessThanOrEqual(15)
        }
      }
    }
  })

for (const { path, handle } of [
  { path: '/embed/walk-round/', handle: '.plan [role=slider]' },
  { path: '/embed/wall-distance/', handle: '.plan [role=slider]' },
  { path: '/embed/hall-parts/', handle: '.plan [role=slider]' },
  { path: '/embed/box-and-wave/', handle: '.plan [role=slider]' },
])
  test(`${path}: on a phone the sentence, the number and the handle are in view together`, async ({ page }) => {
    await setSize(page, 390, 844)
    await page.goto(path)
    await wakeFigures(page)
    await page.locator('.plan').evaluate((plan) => plan.scrollIntoView({ block: 'center', behavior: 'instant' }))
    await expect(page.locator('.sentence').first()).toBeInViewport({ ratio: 1 })
    await expect(page.locator(handle).first()).toBeInViewport()
    // The number stands at a mark of the plan, and is told of the same answer as the sentence.
    await expect(page.locator('.plan text', { hasText: /\d+ (dB|%)/ }).first()).toBeInViewport()
  })

test('handles are large enough for fingers', async ({ page }) => {
  for (const path of ['walk-round', 'wall-distance', 'hall-parts', 'box-and-wave', 'steer-the-bass']) {
    await setSize(page, 390, 844)
    await page.goto(`/embed/${path}/`)
    await wakeFigures(page)
    const grips = await page.locator('.handle .grip').evaluateAll((all) =>
      all.map((grip) => {
        const { width, height } = grip.getBoundingClientRect()
        return Math.min(width, height)
      }),
    )
    expect(grips.length).toBeGreaterThan(0)
    for (const px of grips) expect(px, path).toBeGreaterThanOrEqual(43.5)
  }
})

test.describe('a reader who has opened what can be set', () => {
  test.use({ kept: hasOpenedAll })
  test('a group of radios is one tab stop, keeps its size on the narrowest phone and sits on the line of its label', async ({
    page,
  }) => {
    for (const path of ['hall-parts', 'wall-distance', 'steer-the-bass']) {
      await setSize(page, 320, 800)
      await page.goto(`/embed/${path}/`)
      await wakeFigures(page)
      const radios = await page.locator('input[type=radio]').evaluateAll((all) =>
        (all as HTMLInputElement[])
          .filter((radio) => radio.checkVisibility())
          .map((radio) => {
            const box = radio.getBoundingClientRect()
            const words = document.createRange()
            words.selectNodeContents(radio.closest('label') as HTMLElement)
            const line = [...words.getClientRects()].at(-1) as DOMRect
            return {
              name: radio.name,
              width: box.width,
              offPx: box.top + box.height / 2 - (line.top + line.height / 2),
            }
          }),
      )
      expect(radios.length).toBeGreaterThan(1)
      for (const { name, width } of radios) {
        expect(name).not.toBe('')
        expect(width, path).toBeGreaterThanOrEqual(16)
      }
      const first = page.locator('input[type=radio]:checked').first()
      const group = await first.getAttribute('name')
      await first.focus()
      await page.keyboard.press('Tab')
      expect(await page.evaluate(() => (document.activeElement as HTMLInputElement).name ?? '')).not.toBe(group)
    }
  })
})

test('keys: Home and End take the listener to the front and straight behind, Page keys out and in', async ({
  page,
}) => {
  await page.goto('/embed/walk-round/')
  await wakeFigures(page)
  const listener = page.locator('.plan [role=slider]')
  await listener.focus()
  await page.keyboard.press('Home')
  await expect(listener).toHaveAttribute('aria-valuenow', '0')
  await page.keyboard.press('End')
  await expect(listener).toHaveAttribute('aria-valuenow', '180')
  const before = await listener.getAttribute('aria-valuetext')
  await page.keyboard.press('PageUp')
  await expect(listener).not.toHaveAttribute('aria-valuetext', before ?? '')
})

test('the finding follows the state', async ({ page }) => {
  await page.goto('/embed/walk-round/')
  await wakeFigures(page)
  const finding = page.locator('.finding')
  const behind = await finding.textContent()
  await page.locator('.plan [role=slider]').focus()
  await page.keyboard.press('Home')
  await expect(finding).not.toHaveText(behind ?? '')
  await page.keyboard.press('End')
  await expect(finding).toHaveText(behind ?? '')
})

test('in colours of the reader’s system the drawing’s lines and handles are still seen', async ({ page }) => {
  await page.emulateMedia({ forcedColors: 'active' })
  await page.goto('/embed/walk-round/')
  await wakeFigures(page)
  const [paper, line, mark] = await page.evaluate(() => {
    const paint = (selector: string, which: 'stroke' | 'fill') => {
      const element = document.querySelector(selector)
      return element ? getComputedStyle(element)[which] : ''
    }
    return [
      getComputedStyle(document.body).backgroundColor,
      paint('.chart g.front path', 'stroke'),
      paint('.plan .head', 'fill'),
    ]
  })
  expect(line).not.toBe('')
  expect(line).not.toBe(paper)
  expect(mark).not.toBe(paper)
})

test('at twice the size of type nothing is cut off', async ({ page }) => {
  await setSize(page, 640, 800)
  for (const path of ['/', '/lessons/the-wall-joins-in/', '/own-box/']) {
    await page.goto(path)
    await wakeFigures(page)
    await page.evaluate(() => document.documentElement.style.setProperty('font-size', '200%'))
    await framesPass(page, 3)
    const beyondPx = await page.evaluate(
      () => document.documentElement.scrollWidth - document.documentElement.clientWidth,
    )
    expect(beyondPx, path).toBeLessThanOrEqual(0)
  }
})
