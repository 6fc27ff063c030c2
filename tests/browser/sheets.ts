import type { Page } from '@playwright/test'

/** Pages of a printed page, on the paper that the site asks for, or on another one with the same margins: each is an object of the type Page in the file. */
export async function sheets(page: Page, format: 'A4' | 'Letter' = 'A4'): Promise<number | undefined> {
  const margin = { top: '11mm', bottom: '11mm', left: '15mm', right: '15mm' }
  const paper = format === 'A4' ? { preferCSSPageSize: true } : { margin }
  const file = (await page.pdf({ format, ...paper })).toString('latin1')
  return file.match(/\/Type\s*\/Page\b(?!s)/g)?.length
}
