import * as v from 'valibot'
import { keepForGood } from './keep-for-good.ts'
import { deviceStore, keepText, storedText, type TextStore, versionedJson } from './kept-text.ts'
import { issueWords } from './schema-words.ts'

// A list of things that are kept on the device, and written to files: rigs, halls, walks. What of it cannot be read stays as it is.

/** What a thing is known by, whatever becomes of it. */
export type KeptThing = { key: string }

/** Words about a list; those of `newerVersion` to `noList` say why a text is none, the others stand alone. */
type ListWords = {
  newerVersion(): string
  notJson(): string
  noVersion(): string
  noList(): string
  newerSite(): string
  unreadable(): string
  someUnread(given: { count: number }): string
  nothingKept(): string
  notKept(): string
  noRoom(): string
}

/** What a list is: where it is kept, the name of the list in its text, and what may stand in it. */
export type ListForm<T extends KeptThing> = {
  storageKey: string
  list: string
  version: number
  entry: v.GenericSchema<unknown, T>
  say: ListWords
  /** Tells this page that the list has changed. */
  tell?(): void
}

/** What is stored: the readable things, and whatever else stood there, which every later write keeps as it is. */
export type Kept<T> = { things: T[]; unread: unknown[]; problems: string[]; text: string | null; writable: boolean }

/** What the device keeps of a list, and one plain line for each thing that could not be read. Never throws. */
export function keptThings<T extends KeptThing>(
  form: ListForm<T>,
  store: TextStore | undefined = deviceStore(),
): Kept<T> {
  const nothing: Kept<T> = { things: [], unread: [], problems: [], text: null, writable: true }
  const text = storedText(form.storageKey, store)
  if (text === undefined) return { ...nothing, writable: false }
  if (text === null) return nothing
  const file = listIn(form, text)
  if (typeof file === 'string') {
    const newer = file === form.say.newerVersion()
    const problems = [newer ? form.say.newerSite() : form.say.unreadable()]
    return { ...nothing, text, problems, writable: !newer }
  }
  const things: T[] = []
  const unread: unknown[] = []
  for (const entry of file) {
    const read = readable(form, entry)
    if (typeof read === 'string' || things.some(({ key }) => key === read.key)) unread.push(entry)
    else things.push(read)
  }
  const problems = unread.length === 0 ? [] : [form.say.someUnread({ count: unread.length })]
  return { things, unread, problems, text, writable: true }
}

/** The entries of a stored text or a file, or why it cannot be read. */
export function listIn<T extends KeptThing>({ list, version, say }: ListForm<T>, text: string): unknown[] | string {
  const json = versionedJson(text, version)
  if (typeof json === 'string')
    return { notJson: say.notJson, noVersion: say.noVersion, newer: say.newerVersion }[json]()
  const file = v.safeParse(v.object({ [list]: v.array(v.unknown()) }), json.value)
  return file.success ? (file.output[list] as unknown[]) : say.noList()
}

/** A checked thing, or what is wrong with it. */
export function readable<T extends KeptThing>({ entry }: ListForm<T>, value: unknown): T | string {
  const result = v.safeParse(entry, value)
  return result.success ? result.output : issueWords(result.issues[0])
}

/** Some things as the text of one file, or as the device keeps them. */
export const listText = <T extends KeptThing>({ version, list }: ListForm<T>, things: readonly unknown[]): string =>
  JSON.stringify({ version, [list]: things })

/**
 * Replaces the stored text in one step, to be called in turn with other tabs; returns the problem in words, or ''.
 *
 * When anything fails, what was there before is still there.
 */
export function writeThings<T extends KeptThing>(
  form: ListForm<T>,
  before: Kept<T>,
  things: readonly T[],
  store: TextStore | undefined = deviceStore(),
): string {
  const { storageKey, say } = form
  if (!before.writable) return before.problems[0] ?? say.nothingKept()
  const unread = before.text !== null && typeof listIn(form, before.text) === 'string' ? before.text : null
  const failed = keepText(storageKey, listText(form, [...things, ...before.unread]), unread, store)
  if (failed) return say[failed]()
  form.tell?.()
  keepForGood()
  return ''
}
