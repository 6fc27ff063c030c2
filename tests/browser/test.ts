import { type Browser, type BrowserContext, type BrowserContextOptions, test as base } from '@playwright/test'
import { hasOpenedAll, type Kept } from './readers.ts'

/**
 * A test with a reader whose device keeps `kept`: who has opened what each figure can be set to, and read on after each guess, unless
 * said otherwise. What others meet is looked at in calm.spec.ts and course.spec.ts.
 */
export const test = base.extend<{ kept: Kept }>({
  kept: [hasOpenedAll, { option: true }],
  context: async ({ context, kept }, use) => {
    await keepOnDevice(context, kept)
    await use(context)
  },
})

/** Another reader, with a device of their own, on which the same is kept unless said otherwise. */
export async function anotherReader(
  browser: Browser | null,
  { kept = hasOpenedAll, ...options }: BrowserContextOptions & { kept?: Kept } = {},
): Promise<BrowserContext> {
  if (!browser) throw new Error('no browser')
  const context = await browser.newContext(options)
  await keepOnDevice(context, kept)
  return context
}

/**
 * Lays on a device what is not there yet, as a page begins. Playwright's `storageState` opens and closes a page for it, which takes a third
 * of the time of most visits.
 */
const keepOnDevice = (context: BrowserContext, kept: Kept) =>
  context.addInitScript((texts) => {
    if (!location.protocol.startsWith('http')) return
    for (const [name, text] of Object.entries(texts)) localStorage.getItem(name) ?? localStorage.setItem(name, text)
  }, kept)
