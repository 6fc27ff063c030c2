import * as v from 'valibot'
import { inTurn } from './in-turn.ts'
import { type Kept, keptThings, type ListForm, readable, writeThings } from './kept-list.ts'
import { tellListChange } from './kept-list-change.ts'
import { deviceStore, type TextStore } from './kept-text.ts'
import * as words from './own-list.messages.ts'

// Things of the reader's own under names, kept on the device as one list: rigs, halls.

export const longestName = 60

/** The name of a thing that is kept. */
const keptName = v.pipe(v.string(), v.trim(), v.minLength(1), v.maxLength(longestName))
const keptKey = v.pipe(v.string(), v.regex(/^own-[a-z0-9-]{1,80}$/))

/** A thing that the reader keeps on this device. `key` starts with 'own-' and never changes; `name` is the reader's. */
export type OwnThing<Part extends string, Value> = { key: string; name: string } & { [part in Part]: Value }

/** What became of a change, in words for the reader; `problem` is empty when it worked. */
export type SavingResult<T> = { thing?: T; problem: string }

/** Words about such a list beside those that all have in common; reasons go into a sentence. */
type OwnWords = Omit<ListForm<never>['say'], 'newerVersion' | 'notJson' | 'noVersion'> & {
  enough(given: { most: number }): string
  notSaved(given: { reason: string }): string
}

/**
 * A list of the reader's own things.
 *
 * What other tabs have saved meanwhile stays: the stored text is read, changed and written in turn with them. Nothing here throws
 * or rejects.
 *
 * @param list   the name of the list in its text
 * @param part   the name of what a thing holds beside key and name
 * @param value  what that may be
 * @param most   how many things it may hold
 */
export function ownList<Part extends string, Value>(given: {
  storageKey: string
  list: string
  part: Part
  value: v.GenericSchema<unknown, Value>
  version: number
  most: number
  say: OwnWords
}) {
  type Thing = OwnThing<Part, Value>
  const { storageKey, part, most, say } = given
  const entry = v.strictObject({ key: keptKey, name: keptName, [part]: given.value })
  const form: ListForm<Thing> = {
    storageKey,
    list: given.list,
    version: given.version,
    entry: entry as unknown as v.GenericSchema<unknown, Thing>,
    say: { newerVersion: words.newerVersion, notJson: words.notJson, noVersion: words.noVersion, ...say },
    tell: tellListChange,
  }
  const named = (key: string, name: string, value: Value) => ({ key, name, [part]: value }) as unknown as Thing

  /** One of that name is replaced and keeps its key. */
  function saveNow(name: string, value: Value, store: TextStore | undefined): SavingResult<Thing> {
    const before = keptThings(form, store)
    const checked = v.safeParse(keptName, name)
    if (!checked.success) return { problem: words.nameLength({ most: longestName }) }
    const old = before.things.find((known) => known.name === checked.output)
    if (!old && before.things.length >= most) return { problem: say.enough({ most }) }
    const read = readable(form, named(old?.key ?? freshKey(checked.output, before.things), checked.output, value))
    if (typeof read === 'string') return { problem: say.notSaved({ reason: read }) }
    const things = old ? before.things.map((known) => (known === old ? read : known)) : [...before.things, read]
    const problem = writeThings(form, before, things, store)
    return problem ? { problem } : { thing: read, problem: '' }
  }

  return {
    form,

    /** What is on this device, and one plain line for each thing that could not be read. */
    read(store: TextStore | undefined = deviceStore()): Pick<Kept<Thing>, 'things' | 'problems'> {
      const { things, problems } = keptThings(form, store)
      return { things, problems }
    },

    /** Saves one under a name; one of that name is replaced and keeps its key. */
    save: async (name: string, value: Value, store: TextStore | undefined = deviceStore()) =>
      inTurn(storageKey, () => saveNow(name, value, store)),

    /**
     * Saves one that came from somebody else: a different one of that name keeps it, and the new one gets a number behind its name; one
     * that is here already is given back as it is.
     */
    add: async (name: string, value: Value, store: TextStore | undefined = deviceStore()) =>
      inTurn(storageKey, (): SavingResult<Thing> => {
        const { things } = keptThings(form, store)
        const there = things.find((known) => known.name === name && alike(known[part], value))
        return there ? { thing: there, problem: '' } : saveNow(freshName(name, things), value, store)
      }),

    /** Deletes one; returns the problem in words, or ''. */
    remove: async (key: string, store: TextStore | undefined = deviceStore()) =>
      inTurn(storageKey, () => {
        const before = keptThings(form, store)
        const left = before.things.filter((known) => known.key !== key)
        return writeThings(form, before, left, store)
      }),
  }
}

type Named = { key: string; name: string }

/** The key of a new thing of that name. */
export function freshKey(name: string, things: readonly Named[]): string {
  const plain = name
    .toLowerCase()
    .replaceAll(/[^a-z0-9]+/g, '-')
    .replaceAll(/^-+|-+$/g, '')
    .slice(0, 40)
  const stem = `own-${plain || 'rig'}`
  let key = stem
  for (let count = 2; things.some((known) => known.key === key); count++) key = `${stem}-${count}`
  return key
}

/** The name itself, or with a number behind it where another thing has it. */
export function freshName(name: string, things: readonly Named[]): string {
  let free = name
  for (let count = 2; things.some((known) => known.name === free); count++) {
    const ending = ` (${count})`
    free = `${name.slice(0, longestName - ending.length)}${ending}`
  }
  return free
}

/** Whether two values are alike, whatever the order of their keys. */
export const alike = (a: unknown, b: unknown): boolean => JSON.stringify(sorted(a)) === JSON.stringify(sorted(b))

/** The same value with the keys of every object in order, so that two files can be compared. */
function sorted(value: unknown): unknown {
  if (Array.isArray(value)) return value.map(sorted)
  if (typeof value !== 'object' || value === null) return value
  return Object.fromEntries(
    Object.entries(value)
      .sort(([a], [b]) => (a < b ? -1 : 1))
      .map(([key, part]) => [key, sorted(part)]),
  )
}
