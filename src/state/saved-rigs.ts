import type { Rig } from '../acoustics/index.ts'
import { inTurn } from './in-turn.ts'
import { keptThings, listIn, readable, writeThings } from './kept-list.ts'
import { savedRigsKey } from './kept-list-change.ts'
import { deviceStore, type TextStore } from './kept-text.ts'
import { alike, freshKey, freshName, type OwnThing, ownList } from './own-list.ts'
import { rigSchema } from './rig-schema.ts'
import * as say from './saved-rigs.messages.ts'

/** A rig that the reader keeps on this device. */
export type SavedRig = OwnThing<'rig', Rig>

/** Version of the stored form and of the exported file. */
const version = 1
const most = 50
/** No honest file of so few rigs is longer, characters. */
const longestFile = 500_000

export const savedRigs = ownList({
  storageKey: savedRigsKey,
  list: 'rigs',
  part: 'rig',
  value: rigSchema,
  version,
  most,
  say: {
    enough: say.enough,
    notSaved: say.notSaved,
    newerSite: say.newerSite,
    unreadable: say.unreadable,
    someUnread: say.someUnread,
    noList: say.noList,
    nothingKept: say.nothingKept,
    notKept: say.notKept,
    noRoom: say.noRoom,
  },
})
const { form } = savedRigs

/** Some rigs as the text of one JSON file, which `importRigs` reads on another device. */
export const rigsFile = (rigs: readonly { name: string; rig: Rig }[]): string =>
  JSON.stringify(
    { version, rigs: rigs.map(({ name, rig }, place) => ({ key: `own-${place + 1}`, name, rig })) },
    null,
    2,
  )

/** All rigs of this device as the text of one JSON file. */
export function exportRigs(store: TextStore | undefined = deviceStore()): string {
  const { things, unread } = keptThings(form, store)
  return JSON.stringify({ version, rigs: [...things, ...unread] }, null, 2)
}

/**
 * Adds the rigs of an exported file to those of this device. Nothing here is replaced: a different rig of a name that
 * exists gets a number behind its name. Never rejects.
 *
 * @returns  how many were added and how many were here already, and one line for each that was left out
 */
export async function importRigs(text: string, store: TextStore | undefined = deviceStore()): Promise<ImportResult> {
  return inTurn(savedRigsKey, () => importNow(text, store))
}

type ImportResult = { added: number; already: number; problems: string[] }

function importNow(text: string, store: TextStore | undefined): ImportResult {
  const nothing = (problem: string) => ({ added: 0, already: 0, problems: [problem] })
  if (text.length > longestFile) return nothing(say.fileTooLong())
  const file = listIn(form, text)
  if (typeof file === 'string') return nothing(say.fileUnread({ reason: file }))
  const before = keptThings(form, store)
  const rigs = [...before.things]
  const problems: string[] = []
  let added = 0
  let already = 0
  for (const [index, entry] of file.entries()) {
    const read = readable(form, entry)
    if (typeof read === 'string') problems.push(say.rigLeftOut({ number: index + 1, reason: read }))
    else if (rigs.some((known) => known.name === read.name && alike(known.rig, read.rig))) already += 1
    else if (rigs.length >= most) problems.push(say.oneTooMany({ name: read.name, most }))
    else {
      const name = freshName(read.name, rigs)
      rigs.push({ key: freshKey(name, rigs), name, rig: read.rig })
      added += 1
    }
  }
  if (added > 0) {
    const problem = writeThings(form, before, rigs, store)
    if (problem) return { added: 0, already, problems: [...problems, problem] }
  }
  return { added, already, problems }
}
