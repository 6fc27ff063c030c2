import * as v from 'valibot'

// What several things that are kept on the device, or come in a file, have in common: a JSON text with a version in it.

/** Where texts are kept: the browser's own storage, unless a test brings another. */
export type TextStore = Pick<Storage, 'getItem' | 'setItem'>

/** Local storage, or nothing where the browser forbids it (even asking may throw) or there is none. */
export function deviceStore(): TextStore | undefined {
  try {
    return localStorage
  } catch {
    return undefined
  }
}

const versioned = v.object({ version: v.pipe(v.number(), v.integer(), v.minValue(1)) })

/** What a text holds and the version that it says, or why it can be none of ours. Never throws. */
export function versionedJson(
  text: string,
  newest: number,
): { value: unknown; version: number } | 'notJson' | 'noVersion' | 'newer' {
  let value: unknown
  try {
    // −0, which no page of ours writes, counts as 0: it is not divided by.
    value = JSON.parse(text, (_, part) => (part === 0 ? 0 : part))
  } catch {
    return 'notJson'
  }
  const head = v.safeParse(versioned, value)
  if (!head.success) return 'noVersion'
  return head.output.version > newest ? 'newer' : { value, version: head.output.version }
}

/** The text under a name; null without one, undefined where the browser keeps nothing. Never throws. */
export function storedText(key: string, store: TextStore | undefined = deviceStore()): string | null | undefined {
  try {
    return store?.getItem(key)
  } catch {
    return undefined
  }
}

/**
 * Puts a text in the place of the one under a name, in one step. Never throws.
 *
 * @param unread  what stands there, where it cannot be read, else null; it may be a newer page's, so it is set aside, not lost
 * @returns       '', or why the text is not kept: the device gives another one back, or it has no room and what stood there stands there
 */
export function keepText(
  key: string,
  text: string,
  unread: string | null,
  store: TextStore | undefined = deviceStore(),
): '' | 'notKept' | 'noRoom' {
  try {
    if (unread !== null && store) setAside(`${key}.unread`, unread, store)
    store?.setItem(key, text)
    return store?.getItem(key) === text ? '' : 'notKept'
  } catch {
    return 'noRoom'
  }
}

/** Keeps a text under the first free name after `key`; throws when there is no room, so that nothing is overwritten. */
function setAside(key: string, text: string, store: TextStore): void {
  let number = 1
  while (store.getItem(`${key}.${number}`) !== null) number += 1
  store.setItem(`${key}.${number}`, text)
}

/** Calls `listener` when another tab has changed what is kept under a name; returns the function that ends it. */
export function onKeptChange(key: string, listener: () => void): () => void {
  // Without a name all was changed.
  const follow = (event: StorageEvent) => (event.key ?? key) === key && listener()
  addEventListener('storage', follow)
  return () => removeEventListener('storage', follow)
}
