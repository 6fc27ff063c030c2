// Links that readers have sent each other must open as they did. The table was recorded from the site as it stood before
// the figures were rebuilt: what every control said, what was left out, and the address that the figure writes in return. An
// address holds what differs from the page's first state; where that is another one now, the address says so.
import { readFileSync } from 'node:fs'
import { join } from 'node:path'
import { expect, type Locator } from '@playwright/test'
import { hear, player, wakeFigures } from './page-checks.ts'
import { test } from './test.ts'

type Role = 'combobox' | 'slider' | 'radio' | 'checkbox' | 'textbox' | 'button'
/** One value, or one for each control of that name, in their order on the page. */
type Values = string | string[]
type OldFigure = {
  region: string
  /** Role → label → value. A label that ends with … goes on with the value. */
  controls: Partial<Record<Role, Record<string, Values>>>
  /** The line that says what the figure could not use. */
  leftOut?: string
  /** Words that hang on the link alone. */
  says?: string
}
type OldLink = { about: string; link: string; address: string; figures: OldFigure[] }

const { links }: { links: OldLink[] } = JSON.parse(readFileSync(join(import.meta.dirname, 'old-links.json'), 'utf8'))

/** What a control says: a slider what it speaks, a choice its key, a switch its state; a button that is none is there. */
const valueSaid = (control: Locator): Promise<string> =>
  control.evaluate((element) => {
    const spoken = element.getAttribute('aria-valuetext')
    if (spoken !== null) return spoken
    if (element instanceof HTMLButtonElement)
      return { true: 'pressed', false: 'not pressed' }[element.getAttribute('aria-pressed') ?? ''] ?? 'there'
    if (element instanceof HTMLInputElement && /^(radio|checkbox)$/.test(element.type))
      return element.checked ? 'checked' : 'unchecked'
    return (element as HTMLInputElement | HTMLSelectElement).value
  })

/** An address as parts that can be compared: in any order, without the version, which may rise. */
function partsOf(address: string): string[] {
  const { pathname, searchParams, hash } = new URL(address, 'http://localhost')
  const parts = [...searchParams].filter(([key]) => !key.endsWith('.v')).map(([key, value]) => `${key}=${value}`)
  return [pathname + hash, ...parts.sort()]
}

/** What is chosen for the sound of a page stands in its bar, which comes with the first press of the figure's switch. */
const ofSound = /^(pink noise|music|speech-like|true level|matched)$/

for (const { about, link, address, figures } of links) {
  test(`${figures.map(({ region }) => region).join(' · ')}: ${about}`, async ({ page }) => {
    await page.goto(link)
    await wakeFigures(page)
    for (const { region, controls, leftOut, says } of figures) {
      const figure = page.getByRole('region', { name: region, exact: true })
      for (const fold of await figure.locator('details.change:not([open]) > summary').all()) await fold.click()
      const hasSwitch = (await figure.locator('.place-switch').count()) > 0
      if (hasSwitch) await hear(figure)
      for (const [role, labels] of Object.entries(controls)) {
        for (const [label, values] of Object.entries(labels)) {
          const name = label.endsWith('…') ? new RegExp(`^${RegExp.escape(label.slice(0, -1))}`) : label
          const place = hasSwitch && ofSound.test(label) ? player(page) : figure
          const control = place.getByRole(role as Role, { name, exact: true })
          await expect
            .poll(async () => Promise.all((await control.all()).map(valueSaid)), `${role} “${label}”`)
            .toEqual([values].flat())
        }
      }
      await expect(figure.getByText('Left out: ')).toHaveText(leftOut ? [leftOut] : [])
      if (says) await expect(figure).toContainText(says)
    }
    await expect.poll(() => partsOf(page.url()), 'the address').toEqual(partsOf(address))
  })
}
