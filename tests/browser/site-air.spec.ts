import AxeBuilder from '@axe-core/playwright'
import { expect, type Page } from '@playwright/test'
import { test } from './test.ts'

const airSwitch = (page: Page) => page.getByRole('button', { name: /^air / })
const temperature = (page: Page) => page.getByLabel(/^temperature/)
const humidity = (page: Page) => page.getByLabel('relative humidity, %')
const inForce = (page: Page) =>
  page.evaluate(() => {
    const { temperatureC, humidityPct } = document.documentElement.dataset
    return [temperatureC, humidityPct].join()
  })
const kept = (page: Page) => page.evaluate(() => JSON.parse(localStorage.getItem('round-the-back.preferences') ?? '{}'))

test('the air of the site is set by keys, holds from page to page, and goes back to the usual', async ({ page }) => {
  await page.goto('/safety/')
  await expect(airSwitch(page)).toHaveText('air 20 °C, 50 %')
  await expect(temperature(page)).toBeHidden()
  await airSwitch(page).focus()
  await page.keyboard.press('Enter')
  await expect(airSwitch(page)).toHaveAttribute('aria-expanded', 'true')
  await expect(temperature(page)).toBeFocused()
  await page.keyboard.press('ControlOrMeta+a')
  await page.keyboard.type('-5')
  await page.keyboard.press('Tab')
  await expect(humidity(page)).toBeFocused()
  await page.keyboard.press('ArrowUp')
  await expect(airSwitch(page)).toHaveText('air −5 °C, 51 %')
  await page.keyboard.press('Escape')
  await expect(temperature(page)).toBeHidden()
  await expect(airSwitch(page)).toBeFocused()

  await page.goto('/glossary/')
  await expect(airSwitch(page)).toHaveText('air −5 °C, 51 %')
  expect(await inForce(page)).toBe('-5,51')
  await airSwitch(page).click()
  await expect(temperature(page)).toHaveValue('−5')
  await page.getByRole('button', { name: 'as usual (20 °C, 50 %)' }).click()
  await expect(airSwitch(page)).toHaveText('air 20 °C, 50 %')
  await expect(temperature(page)).toHaveValue('20')
  await page.reload()
  expect(await inForce(page)).toBe('20,50')
})

test('what cannot be is refused with what is allowed, and the last air stays', async ({ page }) => {
  await page.goto('/safety/')
  await airSwitch(page).click()
  for (const text of ['45.1', '-11', '']) {
    await temperature(page).fill(text)
    await temperature(page).blur()
    await expect(page.getByText('Allowed is −10 to 45 °C. 20 °C still holds.')).toBeVisible()
    await expect(temperature(page)).toHaveAttribute('aria-invalid', 'true')
    expect(await inForce(page)).toBe('20,50')
  }
  // The other field is taken all the same, and leaves the mistake where it can be mended.
  await humidity(page).fill('0')
  await humidity(page).blur()
  await expect(page.getByText('Allowed is −10 to 45 °C.')).toBeVisible()
  expect(await inForce(page)).toBe('20,0')
  await humidity(page).fill('101')
  await humidity(page).blur()
  await expect(page.getByText('Allowed is 0 to 100 %. 0 % still holds.')).toBeVisible()
  await temperature(page).fill('45')
  await temperature(page).blur()
  await expect(page.getByText('Allowed is −10 to 45 °C.')).toHaveCount(0)
  await expect(temperature(page)).toHaveAttribute('aria-invalid', 'false')
  expect(await inForce(page)).toBe('45,0')
})

test('with feet the air is in °F, and what is kept is the same air', async ({ page }) => {
  await page.goto('/safety/')
  await page.getByRole('button', { name: 'Lengths in feet' }).click()
  await expect(airSwitch(page)).toHaveText('air 68 °F, 50 %')
  await airSwitch(page).click()
  await expect(page.getByLabel('temperature, °F')).toHaveValue('68')
  await temperature(page).fill('113')
  await temperature(page).blur()
  expect(await kept(page)).toEqual({ units: 'ft', temperatureC: 45 })
  await temperature(page).fill('114')
  await temperature(page).blur()
  await expect(page.getByText('Allowed is 14 to 113 °F. 113 °F still holds.')).toBeVisible()
  await page.getByRole('button', { name: 'Lengths in feet' }).click()
  await expect(page.getByLabel('temperature, °C')).toHaveValue('45')
  await expect(page.getByText('Allowed is')).toHaveCount(0)
})

test('the air of a link holds for its page, is not kept, and gives way to the reader', async ({ page }) => {
  await page.goto('/safety/?air=12,80')
  await expect(airSwitch(page)).toHaveText('air 12 °C, 80 %')
  await page.getByRole('button', { name: 'Dark page' }).click()
  expect(await kept(page)).toEqual({ theme: 'dark' })
  await airSwitch(page).click()
  await humidity(page).fill('30')
  await humidity(page).blur()
  await expect(airSwitch(page)).toHaveText('air 12 °C, 30 %')
  expect(await kept(page)).toEqual({ theme: 'dark', humidityPct: 30 })
  await page.goto('/safety/')
  await expect(airSwitch(page)).toHaveText('air 20 °C, 30 %')
})

for (const path of ['/safety/', '/embed/equal-loudness/']) {
  test(`air that a link should not ask for is left out and told on ${path}`, async ({ page }) => {
    await page.goto(`${path}?air=99,80`)
    await expect(page.locator('#page-notice')).toContainText('Left out: air “99,80”')
    await expect(page.locator('#page-notice')).toContainText('−10 to 45 °C and 0 to 100 %')
    expect(await inForce(page)).toBe('20,50')
  })
}

test('theme, lengths and air that are set in one tab hold in the other', async ({ page, context }) => {
  await page.goto('/safety/')
  const other = await context.newPage()
  await other.goto('/glossary/')
  await other.getByRole('button', { name: 'Dark page' }).click()
  await other.getByRole('button', { name: 'Lengths in feet' }).click()
  await airSwitch(other).click()
  await temperature(other).fill('50')
  await temperature(other).blur()
  await expect(airSwitch(page)).toHaveText('air 50 °F, 50 %')
  await expect(page.locator('html')).toHaveAttribute('data-theme', 'dark')
  await expect(page.getByRole('button', { name: 'Lengths in feet' })).toHaveAttribute('aria-pressed', 'true')
})

for (const width of [360, 390, 1280]) {
  test(`the open panel is accessible and fits ${width} px`, async ({ page }) => {
    await page.setViewportSize({ width, height: 800 })
    await page.goto('/safety/')
    await airSwitch(page).click()
    await temperature(page).fill('99')
    await temperature(page).blur()
    await expect(page.getByText('still holds')).toBeVisible()
    const { violations } = await new AxeBuilder({ page }).include('header').analyze()
    expect(violations.map(({ id }) => id)).toEqual([])
    const over = await page.evaluate(() => document.documentElement.scrollWidth - innerWidth)
    expect(over).toBeLessThanOrEqual(0)
    for (const box of [await temperature(page).boundingBox(), await humidity(page).boundingBox()]) {
      expect(box?.height).toBeGreaterThanOrEqual(44)
    }
  })
}
