import { airFromAddress, isSiteAir, type SiteAir, usualAir } from './site-air.ts'

/** What a reader may set for the whole site. Kept on the device under one key; early.js applies it before the first paint. */
export type LengthUnit = 'm' | 'ft'
export type Theme = 'light' | 'dark'
export type Preferences = { units: LengthUnit; theme?: Theme } & SiteAir

const storageKey = 'round-the-back.preferences'
const changed = 'preferences-change'
const usual: Preferences = { units: 'm', ...usualAir }

/** The preferences in force, read from the root element so that page and widgets always agree. The usual ones without a document. */
export function preferences(): Preferences {
  if (typeof document === 'undefined') return { ...usual }
  const { theme, units, temperatureC, humidityPct } = document.documentElement.dataset
  const air = { temperatureC: numberOf(temperatureC), humidityPct: numberOf(humidityPct) }
  return { ...usual, ...sound({ theme, units, ...air }) }
}

/**
 * Sets some preferences for the whole site at once. With `keep: false` only this page is changed, as when a link asks for
 * feet. What is kept is what the reader set himself, one by one: a change of theme does not keep the feet of a link.
 */
export function setPreferences(change: Partial<Preferences>, { keep = true } = {}): void {
  show({ ...preferences(), ...sound(change) })
  if (!keep) return
  const text = JSON.stringify({ ...entries(keptText()), ...sound(change) })
  try {
    localStorage.setItem(storageKey, text)
    seen = text
  } catch {
    // Storage blocked: the choice holds for this page only.
  }
}

/** Shows what is kept on the device, on a page that nothing but the device has set yet. */
export const takeKept = (): void => show({ ...usual, ...sound(entries(keptText())) })

/** Calls `listener` after every change; returns the function that ends it. */
export function onPreferencesChange(listener: () => void): () => void {
  document.addEventListener(changed, listener)
  return () => document.removeEventListener(changed, listener)
}

/** The theme that shows now: the reader's choice, else the system's. */
export function shownTheme(): Theme {
  return preferences().theme ?? (matchMedia('(prefers-color-scheme: dark)').matches ? 'dark' : 'light')
}

/**
 * From now on what is set in another tab holds here too; returns the function that ends it. Only what was changed there
 * is taken over: what a link asked of this page stays.
 */
export function followOtherTabs(): () => void {
  seen = keptText()
  const follow = () => {
    const text = keptText()
    const [before, now] = [sound(entries(seen)), sound(entries(text))]
    seen = text
    const here: Partial<Preferences> = preferences()
    const changes = (['units', 'theme', 'temperatureC', 'humidityPct'] as const).filter(
      (name) => before[name] !== now[name],
    )
    if (changes.length === 0) return
    for (const name of changes) delete here[name]
    // Another tab's choice, or the usual where it has taken its choice back.
    show({ ...usual, ...here, ...Object.fromEntries(Object.entries(now).filter(([name]) => !(name in here))) })
  }
  // A page that comes back from the browser's memory has missed the events.
  addEventListener('storage', follow)
  addEventListener('pageshow', follow)
  return () => {
    removeEventListener('storage', follow)
    removeEventListener('pageshow', follow)
  }
}

let linked: string[] | undefined

/**
 * Takes over the air that the page's address asks for, for this page only. The first call of a page does it; later ones, by
 * figures that wake after the reader has changed the air, change nothing.
 *
 * @returns  one plain line if the address asked for air that cannot be used
 */
export function takeLinkedAir(): string[] {
  if (linked) return linked
  const { air, dropped } = airFromAddress(new URLSearchParams(location.search))
  linked = dropped
  if (air) setPreferences(air, { keep: false })
  return linked
}

/** The stored text when this page last looked, so that a change in another tab can be told from what a link asked for. */
let seen: string | null = null

function keptText(): string | null {
  try {
    return localStorage.getItem(storageKey)
  } catch {
    return null
  }
}

/** What a stored text says, name by name; a text that cannot be read says nothing. */
function entries(text: string | null): Record<string, unknown> {
  try {
    const value: unknown = JSON.parse(text ?? '{}')
    return typeof value === 'object' && value !== null && !Array.isArray(value) ? { ...value } : {}
  } catch {
    return {}
  }
}

/** The preferences among some values; others and impossible ones are left out. */
function sound({ units, theme, temperatureC, humidityPct }: Record<string, unknown>): Partial<Preferences> {
  return {
    ...((units === 'm' || units === 'ft') && { units }),
    ...((theme === 'light' || theme === 'dark') && { theme }),
    ...(isSiteAir('temperatureC', temperatureC) && { temperatureC }),
    ...(isSiteAir('humidityPct', humidityPct) && { humidityPct }),
  }
}

function show({ units, theme, temperatureC, humidityPct }: Preferences): void {
  const { dataset } = document.documentElement
  dataset['units'] = units
  dataset['temperatureC'] = String(temperatureC)
  dataset['humidityPct'] = String(humidityPct)
  if (theme) dataset['theme'] = theme
  else delete dataset['theme']
  document.dispatchEvent(new CustomEvent(changed))
}

const numberOf = (text: string | undefined): number | undefined => (text === undefined ? undefined : Number(text))
