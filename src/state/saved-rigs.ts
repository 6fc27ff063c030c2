import * as v from 'valibot'
import type { Rig } from '../acoustics/index.ts'
import { inTurn } from './in-turn.ts'
import { setAside, type TextStore, versionedJson } from './kept-text.ts'
import { rigSchema } from './rig-schema.ts'
import * as say from './saved-rigs.messages.ts'
import { savedRigsKey, tellSavedRigsChange } from './saved-rigs-change.ts'
import { issueWords } from './schema-words.ts'

/** A rig that the reader keeps on this device. `key` starts with 'own-' and never changes; `name` is the reader's. */
export type SavedRig = { key: string; name: string; rig: Rig }

/** Where rigs are kept: the device's local storage, or something of its shape. */
export type RigStore = TextStore

/** What became of a change, in words for the reader; `problem` is empty when it worked. */
export type SavingResult = { rig?: SavedRig; problem: string }

const unreadKey = 'round-the-back.rigs.unread'

/** Version of the stored form and of the exported file. */
const version = 1
export const longestName = 60
const mostRigs = 50
/** No honest file of so few rigs is longer, characters. */
const longestFile = 500_000

const rigName = v.pipe(v.string(), v.trim(), v.minLength(1), v.maxLength(longestName))
const savedRig = v.strictObject({
  key: v.pipe(v.string(), v.regex(/^own-[a-z0-9-]{1,80}$/)),
  name: rigName,
  rig: rigSchema,
})

/** What is stored: the readable rigs, and whatever else stood there, which every later write keeps as it is. */
type Kept = { rigs: SavedRig[]; unread: unknown[]; problems: string[]; text: string | null; writable: boolean }

/** The rigs on this device, and one plain line for each thing that could not be read. Never throws. */
export function readSavedRigs(store: RigStore | undefined = deviceStore()): { rigs: SavedRig[]; problems: string[] } {
  const { rigs, problems } = kept(store)
  return { rigs, problems }
}

/**
 * Saves a rig under a name; a rig of that name is replaced and keeps its key. Never rejects.
 *
 * What other tabs have saved meanwhile stays: the stored text is read, changed and written in turn with them.
 * The stored text is replaced in one step, and only by text that reads back as what was meant: when anything fails, what
 * was there before is still there.
 */
export async function saveRig(
  name: string,
  rig: Rig,
  store: RigStore | undefined = deviceStore(),
): Promise<SavingResult> {
  return inTurn(savedRigsKey, () => saveNow(name, rig, store))
}

function saveNow(name: string, rig: Rig, store: RigStore | undefined): SavingResult {
  const before = kept(store)
  const named = v.safeParse(rigName, name)
  if (!named.success) return { problem: say.nameLength({ most: longestName }) }
  const old = before.rigs.find((known) => known.name === named.output)
  if (!old && before.rigs.length >= mostRigs) {
    return { problem: say.enough({ most: mostRigs }) }
  }
  const fresh = { key: old?.key ?? freshKey(named.output, before.rigs), name: named.output, rig }
  const read = readable(fresh)
  if (typeof read === 'string') return { problem: say.notSaved({ reason: read }) }
  const rigs = old ? before.rigs.map((known) => (known === old ? read : known)) : [...before.rigs, read]
  const problem = write(before, rigs, store)
  return problem ? { problem } : { rig: read, problem: '' }
}

/**
 * Saves a rig that came from somebody else: a different rig of that name keeps it, and the new one gets a number behind its
 * name; one that is here already is given back as it is. Never rejects.
 */
export async function addRig(
  name: string,
  rig: Rig,
  store: RigStore | undefined = deviceStore(),
): Promise<SavingResult> {
  return inTurn(savedRigsKey, () => {
    const { rigs } = kept(store)
    const there = rigs.find((known) => known.name === name && same(known.rig, rig))
    return there ? { rig: there, problem: '' } : saveNow(freshName(name, rigs), rig, store)
  })
}

/** Deletes one rig. Never rejects. */
export async function deleteRig(key: string, store: RigStore | undefined = deviceStore()): Promise<SavingResult> {
  return inTurn(savedRigsKey, () => {
    const before = kept(store)
    const rigs = before.rigs.filter((known) => known.key !== key)
    return { problem: write(before, rigs, store) }
  })
}

/** Some rigs as the text of one JSON file, which `importRigs` reads on another device. */
export const rigsFile = (rigs: readonly { name: string; rig: Rig }[]): string =>
  JSON.stringify(
    { version, rigs: rigs.map(({ name, rig }, place) => ({ key: `own-${place + 1}`, name, rig })) },
    null,
    2,
  )

/** All rigs of this device as the text of one JSON file. */
export function exportRigs(store: RigStore | undefined = deviceStore()): string {
  const { rigs, unread } = kept(store)
  return JSON.stringify({ version, rigs: [...rigs, ...unread] }, null, 2)
}

/**
 * Adds the rigs of an exported file to those of this device. Nothing here is replaced: a different rig of a name that
 * exists gets a number behind its name. Never rejects.
 *
 * @returns  how many were added and how many were here already, and one line for each that was left out
 */
export async function importRigs(text: string, store: RigStore | undefined = deviceStore()): Promise<ImportResult> {
  return inTurn(savedRigsKey, () => importNow(text, store))
}

type ImportResult = { added: number; already: number; problems: string[] }

function importNow(text: string, store: RigStore | undefined): ImportResult {
  const nothing = (problem: string) => ({ added: 0, already: 0, problems: [problem] })
  if (text.length > longestFile) return nothing(say.fileTooLong())
  const file = readFile(text)
  if (typeof file === 'string') return nothing(say.fileUnread({ reason: file }))
  const before = kept(store)
  const rigs = [...before.rigs]
  const problems: string[] = []
  let added = 0
  let already = 0
  for (const [index, entry] of file.entries()) {
    const read = readable(entry)
    if (typeof read === 'string') problems.push(say.rigLeftOut({ number: index + 1, reason: read }))
    else if (rigs.some((known) => known.name === read.name && same(known.rig, read.rig))) already += 1
    else if (rigs.length >= mostRigs) problems.push(say.oneTooMany({ name: read.name, most: mostRigs }))
    else {
      const name = freshName(read.name, rigs)
      rigs.push({ key: freshKey(name, rigs), name, rig: read.rig })
      added += 1
    }
  }
  if (added > 0) {
    const problem = write(before, rigs, store)
    if (problem) return { added: 0, already, problems: [...problems, problem] }
  }
  return { added, already, problems }
}

/** Local storage, or nothing where the browser forbids it (even asking may throw) or there is none. */
function deviceStore(): RigStore | undefined {
  try {
    return typeof localStorage === 'undefined' ? undefined : localStorage
  } catch {
    return undefined
  }
}

function kept(store: RigStore | undefined): Kept {
  const nothing: Kept = { rigs: [], unread: [], problems: [], text: null, writable: true }
  if (!store) return { ...nothing, writable: false }
  let text: string | null
  try {
    text = store.getItem(savedRigsKey)
  } catch {
    return { ...nothing, writable: false }
  }
  if (text === null) return nothing
  const file = readFile(text)
  if (typeof file === 'string') {
    const newer = file === newerVersion
    const problems = [newer ? say.newerSite() : say.unreadable()]
    return { ...nothing, text, problems, writable: !newer }
  }
  const rigs: SavedRig[] = []
  const unread: unknown[] = []
  for (const entry of file) {
    const read = readable(entry)
    if (typeof read === 'string' || rigs.some(({ key }) => key === read.key)) unread.push(entry)
    else rigs.push(read)
  }
  const problems = unread.length === 0 ? [] : [say.someUnread({ count: unread.length })]
  return { rigs, unread, problems, text, writable: true }
}

const newerVersion = say.newerVersion()

/** The entries of a stored text or a file, or why it cannot be read. */
function readFile(text: string): unknown[] | string {
  const json = versionedJson(text, version)
  if (typeof json === 'string') return { notJson: say.notJson(), noVersion: say.noVersion(), newer: newerVersion }[json]
  const file = v.safeParse(v.object({ rigs: v.array(v.unknown()) }), json.value)
  return file.success ? file.output.rigs : say.noList()
}

/** A checked rig, or what is wrong with it. */
function readable(entry: unknown): SavedRig | string {
  const result = v.safeParse(savedRig, entry)
  return result.success ? result.output : issueWords(result.issues[0])
}

/** Replaces the stored text in one step; returns the problem in words, or ''. */
function write(before: Kept, rigs: SavedRig[], store: RigStore | undefined): string {
  if (!store || !before.writable) {
    return before.problems[0] ?? say.nothingKept()
  }
  try {
    if (before.text !== null && typeof readFile(before.text) === 'string') setAside(unreadKey, before.text, store)
    const text = JSON.stringify({ version, rigs: [...rigs, ...before.unread] })
    store.setItem(savedRigsKey, text)
    if (store.getItem(savedRigsKey) !== text) return say.notKept()
  } catch {
    return say.noRoom()
  }
  tellSavedRigsChange()
  return ''
}

function freshKey(name: string, rigs: SavedRig[]): string {
  const plain = name
    .toLowerCase()
    .replaceAll(/[^a-z0-9]+/g, '-')
    .replaceAll(/^-+|-+$/g, '')
    .slice(0, 40)
  const stem = `own-${plain || 'rig'}`
  let key = stem
  for (let count = 2; rigs.some((known) => known.key === key); count++) key = `${stem}-${count}`
  return key
}

function freshName(name: string, rigs: SavedRig[]): string {
  let free = name
  for (let count = 2; rigs.some((known) => known.name === free); count++) {
    const ending = ` (${count})`
    free = `${name.slice(0, longestName - ending.length)}${ending}`
  }
  return free
}

const same = (a: Rig, b: Rig): boolean => JSON.stringify(sorted(a)) === JSON.stringify(sorted(b))

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
