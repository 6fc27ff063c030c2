import * as v from 'valibot'
import type { HeardPlace } from '../../engine/questions/phone-walk/phone-terms.ts'
import { heardBands } from '../../engine/scene/third-octaves.ts'
import { inTurn } from '../../state/in-turn.ts'
import { setAside, storedText, versionedJson } from '../../state/kept-text.ts'
import { issueWords } from '../../state/schema-words.ts'
import * as say from './kept-walks.messages.ts'

// Walks as the device keeps them and as they are written to a file: levels and names, never the sound.

export const walksKey = 'round-the-back.walks'
/** Version of the stored form and of the file. */
const version = 1
export const mostWalks = 50
export const mostPlaces = 60
export const mostFronts = 40
export const longestName = 60
/** How far in front of the box the phone is held unless the reader says otherwise, m. */
export const usualFrontM = 2.5
/** No honest file of so many walks is longer, characters. */
const longestFile = 12_000_000

const finite = v.pipe(v.number(), v.finite())
const positive = v.pipe(finite, v.minValue(0))
const level = v.pipe(finite, v.minValue(-400), v.maxValue(400))
const estimate = v.object({ levelDb: level, errorDb: positive, freedom: v.pipe(finite, v.minValue(1)) })
const heard = v.object({
  levels: v.pipe(v.array(v.nullable(estimate)), v.length(heardBands.length)),
  durationS: positive,
  keptS: positive,
  clippedSamples: positive,
  crestDb: v.nullable(level),
})
const key = v.pipe(v.string(), v.regex(/^[a-z0-9-]{1,60}$/))
const name = v.pipe(v.string(), v.trim(), v.minLength(1), v.maxLength(longestName))
const distance = v.pipe(finite, v.minValue(0.1), v.maxValue(100))
const angle = v.pipe(finite, v.minValue(-180), v.maxValue(180))
const place = v.object({
  key,
  name,
  heard,
  /** Which of the fronts it is held against, from 0. */
  front: v.pipe(v.number(), v.integer(), v.minValue(0)),
  distanceM: v.nullable(distance),
  angleDeg: v.nullable(angle),
})
const walk = v.pipe(
  v.object({
    key,
    name,
    /** When it began, as ISO 8601. */
    begun: v.pipe(v.string(), v.isoTimestamp()),
    isPractice: v.boolean(),
    /** Whether the browser kept something on that it does to speech. */
    isProcessed: v.boolean(),
    frontM: distance,
    quiet: v.nullable(heard),
    fronts: v.pipe(v.array(heard), v.minLength(1), v.maxLength(mostFronts)),
    places: v.pipe(v.array(place), v.maxLength(mostPlaces)),
  }),
  v.check(({ fronts, places }) => places.every(({ front }) => front < fronts.length), say.lacksFront()),
)

export type KeptPlace = v.InferOutput<typeof place>
export type KeptWalk = v.InferOutput<typeof walk>

/** Of the levels no more digits are kept than mean something. */
export function roundedPlace(given: HeardPlace): HeardPlace {
  const round = (value: number, digits: number) => Number(value.toFixed(digits))
  return {
    levels: given.levels.map(
      (each) =>
        each && {
          levelDb: round(each.levelDb, 3),
          errorDb: round(each.errorDb, 4),
          freedom: Math.max(1, round(each.freedom, 1)),
        },
    ),
    durationS: round(given.durationS, 2),
    keptS: round(given.keptS, 2),
    clippedSamples: given.clippedSamples,
    crestDb: given.crestDb === null ? null : round(given.crestDb, 2),
  }
}

/** A key that no other walk or place has. */
export const freshKey = (): string => `${Date.now().toString(36)}-${Math.random().toString(36).slice(2, 10) || '0'}`

/** What is stored: the walks that can be read, and whatever else stood there, which every later write keeps. */
type Kept = { walks: KeptWalk[]; unread: unknown[]; problem: string; text: string | null; writable: boolean }

/** What the device keeps, the newest walk first, and in words what of it cannot be read, or ''. Never throws. */
export function keptWalks(): { walks: KeptWalk[]; problem: string } {
  const { walks, problem } = stored()
  return { walks, problem }
}

/**
 * Changes what the device keeps, in turn with other tabs: what they have marked meanwhile stays. Never rejects.
 *
 * @param shown    what this page shows
 * @param change   gives the walks as they are to be
 * @param isAhead  whether the last change was not kept, so that what is shown is more than what is stored
 * @returns        the walks as they now are, and why they are not kept, or ''
 */
export function changeWalks(
  shown: KeptWalk[],
  change: (before: KeptWalk[]) => KeptWalk[],
  isAhead = false,
): Promise<{ walks: KeptWalk[]; problem: string }> {
  return inTurn(walksKey, () => {
    const before = stored()
    const isShownMore = before.text === null || !before.writable || isAhead
    const walks = change(isShownMore ? withWalks(shown, before.walks) : before.walks)
    if (walks.length > mostWalks) return { walks: walks.slice(0, mostWalks), problem: say.tooMany({ most: mostWalks }) }
    if (!before.writable) return { walks, problem: before.problem }
    try {
      if (before.text !== null && typeof readList(before.text) === 'string') setAside(`${walksKey}.unread`, before.text)
      localStorage.setItem(walksKey, JSON.stringify({ version, walks: [...walks, ...before.unread] }))
      return { walks, problem: '' }
    } catch {
      return { walks, problem: say.notKept() }
    }
  })
}

/** Calls back when another tab has changed the walks; returns the function that ends it. */
export function onWalksChange(listener: () => void): () => void {
  const follow = (event: StorageEvent) => event.key === walksKey && listener()
  addEventListener('storage', follow)
  return () => removeEventListener('storage', follow)
}

/** Walks as the text of one file. */
export const writeWalks = (walks: readonly KeptWalk[]): string => JSON.stringify({ version, walks })

/** Walks out of the text of a file, or in words why there are none; one that is not whole refuses the file. */
export function readWalks(text: string): KeptWalk[] | string {
  if (text.length > longestFile) return say.tooLong()
  const list = readList(text)
  if (typeof list === 'string') return list
  const walks: KeptWalk[] = []
  for (const [index, entry] of list.entries()) {
    const read = v.safeParse(walk, entry)
    if (!read.success) return say.wrong({ number: index + 1, reason: issueWords(read.issues[0]) })
    walks.push(read.output)
  }
  return walks.length > 0 ? walks : say.empty()
}

/** Adds the walks of a file that are not there yet, the newest first; one that is there stays as it is here. */
export function withWalks(before: readonly KeptWalk[], more: readonly KeptWalk[]): KeptWalk[] {
  const fresh = more.filter(({ key }) => !before.some((known) => known.key === key))
  return [...fresh, ...before].sort((a, b) => (a.begun < b.begun ? 1 : a.begun > b.begun ? -1 : 0))
}

function stored(): Kept {
  const nothing: Kept = { walks: [], unread: [], problem: '', text: null, writable: true }
  const text = storedText(walksKey)
  if (text === null) return nothing
  const list = readList(text)
  if (typeof list === 'string') {
    const isNewer = list === say.newer()
    return { ...nothing, problem: isNewer ? say.newerKept() : say.unread(), text, writable: !isNewer }
  }
  const walks: KeptWalk[] = []
  const unread: unknown[] = []
  for (const entry of list) {
    const read = v.safeParse(walk, entry)
    if (read.success && !walks.some(({ key }) => key === read.output.key)) walks.push(read.output)
    else unread.push(entry)
  }
  return {
    walks,
    unread,
    problem: unread.length > 0 ? say.someUnread({ count: unread.length }) : '',
    text,
    writable: true,
  }
}

/** The entries of a stored text or a file, or why it cannot be read. */
function readList(text: string): unknown[] | string {
  const json = versionedJson(text, version)
  if (typeof json === 'string') return { notJson: say.notJson, noVersion: say.noVersion, newer: say.newer }[json]()
  const file = v.safeParse(v.object({ walks: v.array(v.unknown()) }), json.value)
  return file.success ? file.output.walks : say.empty()
}
