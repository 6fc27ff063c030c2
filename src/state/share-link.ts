import { type FieldReader, Refused } from './link-fields.ts'
import * as say from './share-link.messages.ts'
import { shortened } from './shortened.ts'

/** One field of a widget's link: how its text is read and checked, and what stands when it is absent. A comment says what it means. */
export type LinkField<T> = { read: FieldReader<T>; default: T }

/** A widget's link: a name that prefixes every key, a version, and its fields under the names that the code uses. */
export type LinkSchema<S extends Record<string, unknown>> = {
  name: string
  version: number
  /** What the links of older versions left unsaid, where the page began otherwise then: version → values. */
  unsaid?: Record<number, Partial<S>>
  fields: { [K in keyof S]: LinkField<S[K]> }
}

/** What a link gave: a complete state, the fields that it set, and one plain line for each thing that could not be used. */
export type LinkReading<S> = { state: S; set: (keyof S)[]; dropped: string[] }

/** Longest text that is looked at for one field: a longer one is no honest value. */
const longestText = 200

/**
 * Reads a widget's state out of an address. Never throws: what cannot be read keeps its default and is reported.
 *
 * @param link    the widget's schema
 * @param params  the address's parameters; those of other widgets are left alone
 * @param base    what stands where the link says nothing: the defaults, or the page's own preset
 */
export function readLink<S extends Record<string, unknown>>(
  link: LinkSchema<S>,
  params: URLSearchParams,
  base: S = defaultState(link),
): LinkReading<S> {
  const prefix = `${link.name}.`
  const state: S = { ...base, ...link.unsaid?.[Number(params.get(`${prefix}v`) ?? link.version)] }
  const set: (keyof S)[] = []
  const dropped: string[] = []
  for (const key of new Set(params.keys())) {
    if (!key.startsWith(prefix)) continue
    const name = key.slice(prefix.length)
    const text = params.get(key) ?? ''
    if (name === 'v') {
      const version = Number(text)
      if (!Number.isInteger(version) || version < 1) dropped.push(say.badVersion())
      else if (version > link.version) dropped.push(say.newerVersion())
      continue
    }
    const field = Object.hasOwn(link.fields, name) ? link.fields[name as keyof S] : undefined
    if (!field) {
      dropped.push(say.notKnown({ name: shortened(name) }))
      continue
    }
    const value = text.length > longestText ? new Refused(say.tooLong()) : field.read(text)
    if (value instanceof Refused) dropped.push(say.field({ name, text: shortened(text), reason: value.reason }))
    else {
      state[name as keyof S] = value
      set.push(name as keyof S)
    }
  }
  return { state, set, dropped }
}

/** The state that an empty link gives. */
export function defaultState<S extends Record<string, unknown>>(link: LinkSchema<S>): S {
  return Object.fromEntries(
    Object.entries<LinkField<unknown>>(link.fields).map(([name, field]) => [name, field.default]),
  ) as S
}

/**
 * Writes a state into an address's parameters: only what differs from `base` (the default state, or the page's own
 * preset), plus the version when anything does. Other widgets' parameters stay.
 */
export function writeLink<S extends Record<string, unknown>>(
  link: LinkSchema<S>,
  state: S,
  params: URLSearchParams,
  base: S = defaultState(link),
): URLSearchParams {
  const next = new URLSearchParams([...params].filter(([key]) => !key.startsWith(`${link.name}.`)))
  const changed = Object.keys(link.fields).filter((name) => String(state[name]) !== String(base[name]))
  if (changed.length > 0) next.set(`${link.name}.v`, String(link.version))
  for (const name of changed) next.set(`${link.name}.${name}`, String(state[name]))
  return next
}

/** Where on its page a figure stands, for the part of an address after #. */
export const anchorOf = (name: string): string => `figure-${name}`
