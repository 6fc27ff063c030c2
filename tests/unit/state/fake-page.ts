import { vi } from 'vitest'

/** Local storage of one device, which several tabs may share; `refuses` makes every write fail. */
export class FakeStorage {
  readonly texts = new Map<string, string>()
  refuses = false
  getItem = (key: string) => this.texts.get(key) ?? null
  setItem = (key: string, text: string) => {
    if (this.refuses) throw new DOMException('full', 'QuotaExceededError')
    this.texts.set(key, text)
  }
  removeItem = (key: string) => void this.texts.delete(key)
}

/**
 * Stands in for a page of the site, as far as state looks at one: the root element's data, the address, the device's
 * storage, events. To be undone by vi.unstubAllGlobals.
 */
export function fakePage({ search = '', storage = new FakeStorage() } = {}) {
  const window = new EventTarget()
  const dataset: Record<string, string> = {}
  const document = Object.assign(new EventTarget(), { documentElement: { dataset } })
  vi.stubGlobal('document', document)
  vi.stubGlobal('location', { search })
  vi.stubGlobal('localStorage', storage)
  vi.stubGlobal('addEventListener', window.addEventListener.bind(window))
  vi.stubGlobal('removeEventListener', window.removeEventListener.bind(window))
  return { window, document, dataset, storage }
}
