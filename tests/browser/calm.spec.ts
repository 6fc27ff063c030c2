// What a reader meets who has opened nothing: the first view of a figure; and that the rest opens, stays open and prints.
import { expect, type Page } from '@playwright/test'
import { answers } from './built-pages.ts'
import { wakeFigures } from './page-checks.ts'
import { hasOpenedAll, nothing } from './readers.ts'
import { test } from './test.ts'

test.use({ kept: nothing })

/** The figure's own; the sound has one too. */
const change = (page: Page) => page.locator('div.change > details.change')
const opener = (page: Page) => change(page).locator('> summary')

/** What the device keeps open. */
const kept = (page: Page) =>
  page.evaluate(() => JSON.parse(localStorage.getItem('round-the-back.opened') ?? '[]') as string[])

/** Everything in the figure that can be set or pressed as it stands, links and folds left out; the switch of the sound is one. */
const controls = (page: Page) =>
  page
    .locator('main .figure')
    .evaluate((figure) =>
      [
        ...figure.querySelectorAll(
          '.place-switch, :not(.place-switch) > button:not(.plain), input, select, [role=slider]',
        ),
      ]
        .filter((each) => each.checkVisibility())
        .map(
          (each) =>
            each.getAttribute('aria-label') ??
            (each instanceof HTMLInputElement ? each.labels?.[0] : each)?.textContent ??
            '',
        ),
    )

test('home has three controls before anything is opened', async ({ page }) => {
  await page.goto('/')
  await wakeFigures(page)
  expect((await controls(page)).length).toBeLessThanOrEqual(3)
})

for (const [path, all] of Object.entries({ 'wall-distance': 9, 'hall-parts': 2 }))
  test(`${path} shows what one hand moves, and the sound`, async ({ page }) => {
    await page.goto(`/embed/${path}/`)
    await wakeFigures(page)
    // Every drag has keys, a slider and values to try: all move the same thing but for the places of who listens.
    const shown = await controls(page)
    expect(shown.length, shown.join(' | ')).toBeLessThanOrEqual(all)
    expect(shown.join(' ')).not.toMatch(/frequency|octave/)
  })

for (const path of ['column', 'horn', 'box-and-wave'])
  test(`${path} shows what moves the frequency, and the sound`, async ({ page }) => {
    await page.goto(`/embed/${path}/`)
    await wakeFigures(page)
    // A slider, the handle on the drawing that moves the same, and the switch of the sound.
    const shown = await controls(page)
    expect(shown.length, shown.join(' | ')).toBeLessThanOrEqual(3)
    expect(shown.join(' ')).toMatch(/frequency/i)
    expect(shown.join(' ')).not.toMatch(/mouth|width|drivers|spacing/)
  })

/** The last words of each answer's reason. */
const reasons = {
  'why-more-bass-behind': 'hardly any treble',
  'why-is-our-table-boomy': 'you hear it as boom',
  'can-you-keep-the-bass-off-our-tables': 'So we can make it less, not gone',
  'why-not-just-turn-the-bass-down': 'now it is they who lose something',
  'why-did-you-move-the-speakers-at-the-wall': 'the distance to the wall picks the notes',
  'why-are-the-subs-together': 'there is nothing to cancel',
  'is-one-big-sub-better-than-two': 'they can send less bass to one side',
  'would-a-column-fix-it': 'as from any other small box',
  'why-is-it-dull-behind-the-bar': 'the voice loses its edge',
  'why-does-the-band-hear-mud': 'treble in a blur make the mud',
  'why-do-the-neighbours-hear-the-thump': 'the thump without the song',
  'is-it-too-loud-for-our-ears': 'then those hold, not this page',
}
test('every answer has the end of its reason here', () => {
  expect(Object.keys(reasons).sort()).toEqual([...answers].sort())
})
for (const [name, words] of Object.entries(reasons))
  test(`on a phone the answer “${name}” and its reason are read without meeting more than one control`, async ({
    page,
  }) => {
    await page.setViewportSize({ width: 390, height: 844 })
    await page.goto(`/answers/${name}/`)
    await wakeFigures(page)
    const end = page.locator('main p', { hasText: words })
    await expect(end).toHaveCount(1)
    const before = await end.evaluate((paragraph) =>
      // A word whose meaning opens at the place is part of the text.
      [...document.querySelectorAll('main :is(button:not(.term), input, select, summary, [role=slider])')]
        .filter((control) => control.checkVisibility())
        .filter((control) => paragraph.compareDocumentPosition(control) & Node.DOCUMENT_POSITION_PRECEDING)
        .map((control) => control.textContent),
    )
    expect(before.length).toBeLessThanOrEqual(1)
  })

for (const path of [
  'walk-round',
  'wall-distance',
  'hall-parts',
  'column',
  'horn',
  'box-and-wave',
  'loudness-stack',
  'steer-the-bass',
  'own-box',
])
  test(`${path}: what is set is said, opens in place, and stays open for this reader`, async ({ page }) => {
    await page.goto(`/embed/${path}/`)
    await wakeFigures(page)
    await expect(change(page)).not.toHaveAttribute('open', '')
    await expect(opener(page)).not.toBeEmpty()
    await opener(page).click()
    await expect(change(page)).toHaveAttribute('open', '')
    await expect.poll(() => kept(page)).toHaveLength(1)
    await page.reload()
    await wakeFigures(page)
    await expect(change(page)).toHaveAttribute('open', '')
    await opener(page).click()
    await expect.poll(() => kept(page)).toEqual([])
    await page.reload()
    await wakeFigures(page)
    await expect(change(page)).not.toHaveAttribute('open', '')
  })

test('a link that sets something of the folded part opens it; one that moves the listener does not', async ({
  page,
}) => {
  await page.goto('/embed/walk-round/?walk.v=1&walk.angleDeg=90&walk.distanceM=2')
  await wakeFigures(page)
  await expect(page.locator('.sentence')).toContainText('beside the loudspeaker')
  await expect(change(page)).not.toHaveAttribute('open', '')
  await page.goto('/embed/walk-round/?walk.v=1&walk.surroundings=hall')
  await wakeFigures(page)
  await expect(change(page)).toHaveAttribute('open', '')
  await expect(opener(page)).toContainText('in an invented hall')
})

test('on paper the folded part is open, and folded again afterwards', async ({ page }) => {
  await page.goto('/embed/walk-round/')
  await wakeFigures(page)
  await page.evaluate(() => dispatchEvent(new Event('beforeprint')))
  await expect(change(page)).toHaveAttribute('open', '')
  await page.evaluate(() => dispatchEvent(new Event('afterprint')))
  await expect(change(page)).not.toHaveAttribute('open', '')
})

test.describe('for who keeps that figure open elsewhere', () => {
  test.use({ kept: hasOpenedAll })

  for (const name of Object.keys(reasons))
    test(`the answer “${name}” still shows its first view`, async ({ page }) => {
      await page.goto(`/answers/${name}/`)
      await wakeFigures(page)
      await expect(page.locator('details.change')).toHaveCount(1)
      await expect(page.locator('details.change')).not.toHaveAttribute('open')
    })

  test('elsewhere that figure is open', async ({ page }) => {
    await page.goto('/embed/walk-round/')
    await wakeFigures(page)
    await expect(page.locator('details.change')).toHaveAttribute('open')
  })
})
