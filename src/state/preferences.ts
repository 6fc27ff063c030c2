/** What a reader may set for the whole site. Kept on the device under one key; early.js applies it before the first paint. */
export type LengthUnit = 'm' | 'ft'
export type Theme = 'light' | 'dark'
export type Preferences = { units: LengthUnit; theme?: Theme }

const storageKey = 'round-the-back.preferences'
const changed = 'preferences-change'

/** The preferences in force, read from the root element so that page and widgets always agree. Metres without a document. */
export function preferences(): Preferences {
  if (typeof document === 'undefined') return { units: 'm' }
  const { theme, units } = document.documentElement.dataset
  return { units: units === 'ft' ? 'ft' : 'm', ...(theme === 'light' || theme === 'dark' ? { theme } : {}) }
}

/** Sets some preferences for the whole site at once. With `keep: false` only this page is changed, as when a link asks for feet. */
export function setPreferences(change: Partial<Preferences>, { keep = true } = {}): void {
  const next = { ...preferences(), ...change }
  const { dataset } = document.documentElement
  dataset['units'] = next.units
  if (next.theme) dataset['theme'] = next.theme
  if (keep) {
    try {
      localStorage.setItem(storageKey, JSON.stringify(next))
    } catch {
      // Storage blocked: the choice holds for this page only.
    }
  }
  document.dispatchEvent(new CustomEvent(changed))
}

/** Calls `listener` after every change; returns the function that ends it. */
export function onPreferencesChange(listener: () => void): () => void {
  document.addEventListener(changed, listener)
  return () => document.removeEventListener(changed, listener)
}

/** The theme that shows now: the reader's choice, else the system's. */
export function shownTheme(): Theme {
  return preferences().theme ?? (matchMedia('(prefers-color-scheme: dark)').matches ? 'dark' : 'light')
}
