// The course by keyboard alone, with everything opened: the focus goes through a page in the order in which it is read, stops once
// a group, is seen where it stands and ends behind the last word; whatever can be dragged can be moved by keys. The controls
// that it meets in a row stand on one line.
import { expect, type Page } from '@playwright/test'
import { builtPages } from './built-pages.ts'
import { wakeFigures } from './page-checks.ts'
import { test } from './test.ts'

type Stop = {
  name: string
  /** Place in the document. */
  order: number
  group: string | null
  isMark: boolean
  seen: boolean
  left: number
  right: number
  top: number
  bottom: number
}

/** Where the focus stands; null when it has left the page. */
const stopNow = (page: Page): Promise<Stop | null> =>
  page.evaluate(() => {
    const at = document.activeElement
    if (!at || at === document.body || at === document.documentElement) return null
    const { left, right, top, bottom } = at.getBoundingClientRect()
    const isMarked = (element: Element | null) => {
      if (!element) return false
      const { outlineStyle, outlineWidth, boxShadow } = getComputedStyle(element)
      return (outlineStyle !== 'none' && outlineWidth !== '0px') || boxShadow !== 'none'
    }
    /** A mark of a drawing gets a rim. */
    const grip = at.matches('svg :focus-visible') ? at.querySelector('.grip') : null
    const hasRim = grip !== null && getComputedStyle(grip).stroke !== 'none'
    const named = at.getAttribute('aria-label') ?? (at as HTMLInputElement).labels?.[0]?.textContent ?? at.textContent
    return {
      name: `${at.localName} “${(named ?? '').trim().replaceAll(/\s+/g, ' ').slice(0, 50)}”`,
      order: [...document.querySelectorAll('*')].indexOf(at),
      group: at instanceof HTMLInputElement && at.type === 'radio' ? at.name : null,
      isMark: at instanceof SVGElement,
      seen: hasRim || isMarked(at) || isMarked(at.parentElement) || [...at.querySelectorAll('*')].some(isMarked),
      left,
      right,
      top: top + scrollY,
      bottom: bottom + scrollY,
    }
  })

/** Rows of controls whose labels or fields do not share a line, a line for each. */
const unevenRows = (page: Page) =>
  page.evaluate(() =>
    [...document.querySelectorAll('main .controls')].flatMap((row) => {
      const items = [...row.children].filter((item) => item.checkVisibility() && item.querySelector('input, select'))
      const top = (element: Element | null | undefined) => Math.round(element?.getBoundingClientRect().top ?? 0)
      const foot = (element: Element) => Math.round(element.getBoundingClientRect().bottom)
      const lines = Map.groupBy(items, (item) => [...items].find((other) => Math.abs(foot(other) - foot(item)) <= 2))
      return [...lines.values()].flatMap((line) => {
        const names = line.flatMap((item) => item.querySelector('label, legend:not(.visually-hidden)') ?? [])
        const tops = names.map(top)
        const words = names.map((name) => name.textContent.trim().replaceAll(/\s+/g, ' ')).join(' | ')
        return Math.max(...tops) - Math.min(...tops) > 2 ? [`${words}: labels at ${tops}`] : []
      })
    }),
  )

const pages = builtPages.filter((path) => /^\/(lessons|answers)\/|^\/$|^\/own-box\/|^\/compare\/|^\/walk\//.test(path))

test.describe.configure({ timeout: 180_000 })

for (const path of pages) {
  test(`${path}: the focus goes as the page is read, every handle moves by keys, and rows are even`, async ({
    page,
  }) => {
    await page.goto(path)
    await wakeFigures(page)
    const stops: Stop[] = []
    for (;;) {
      await page.keyboard.press('Tab')
      const stop = await stopNow(page)
      if (!stop) break
      stops.push(stop)
      expect(stops.length, 'the focus leaves the page').toBeLessThan(600)
    }
    const found: string[] = []
    stops.forEach((stop, index) => {
      const before = stops[index - 1]
      if (!stop.seen) found.push(`${stop.name}: the focus is not seen`)
      if (!before) return
      if (stop.order <= before.order) found.push(`${stop.name} comes after ${before.name}, and stands before it`)
      // The marks of one drawing lie where they lie.
      if (stop.isMark && before.isMark) return
      if (stop.bottom <= before.top && stop.left < before.right)
        found.push(`${stop.name} lies above ${before.name}, which came before it`)
    })
    const groups = stops.flatMap(({ group }) => group ?? [])
    expect(found).toEqual([])
    expect(groups).toEqual([...new Set(groups)])

    const unmoved: string[] = []
    for (const handle of await page.locator('main svg [role=slider][tabindex="0"]:visible').all()) {
      const value = () =>
        handle.evaluate((mark) => mark.getAttribute('aria-valuetext') ?? mark.getAttribute('aria-valuenow'))
      const before = await value()
      await handle.focus()
      let isMoved = false
      for (const key of ['ArrowRight', 'ArrowUp', 'ArrowLeft', 'ArrowDown']) {
        await page.keyboard.press(key)
        isMoved ||= (await value()) !== before
      }
      if (!isMoved) unmoved.push((await handle.getAttribute('aria-label')) ?? '?')
    }
    expect(unmoved).toEqual([])
    expect(await unevenRows(page)).toEqual([])
  })
}
