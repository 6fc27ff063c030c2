import * as v from 'valibot'

// What several things that are kept on the device, or come in a file, have in common: a JSON text with a version in it.

/** Where texts are kept: the browser's own storage, unless a test brings another. */
export type TextStore = Pick<Storage, 'getItem' | 'setItem'>

const versioned = v.object({ version: v.pipe(v.number(), v.integer(), v.minValue(1)) })

/** What a text holds and the version that it says, or why it can be none of ours. Never throws. */
export function versionedJson(
  text: string,
  newest: number,
): { value: unknown; version: number } | 'notJson' | 'noVersion' | 'newer' {
  let value: unknown
  try {
    value = JSON.parse(text)
  } catch {
    return 'notJson'
  }
  const head = v.safeParse(versioned, value)
  if (!head.success) return 'noVersion'
  return head.output.version > newest ? 'newer' : { value, version: head.output.version }
}

/** The text under a name; null without one, and where the browser keeps nothing. Never throws. */
export function storedText(key: string): string | null {
  try {
    return localStorage.getItem(key)
  } catch {
    return null
  }
}

/** Keeps a text that cannot be read under the first free name after `key`; throws when there is no room, so that nothing is overwritten. */
export function setAside(key: string, text: string, store: TextStore = localStorage): void {
  let number = 1
  while (store.getItem(`${key}.${number}`) !== null) number += 1
  store.setItem(`${key}.${number}`, text)
}
