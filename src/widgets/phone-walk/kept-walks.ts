import * as v from 'valibot'
import type { HeardPlace } from '../../engine/questions/phone-walk/phone-terms.ts'
import { heardBands } from '../../engine/scene/third-octaves.ts'
import { inTurn } from '../../state/in-turn.ts'
import { keptThings, type ListForm, listIn, listText, readable, writeThings } from '../../state/kept-list.ts'
import { onKeptChange } from '../../state/kept-text.ts'
import * as say from './kept-walks.messages.ts'

// Walks as the device keeps them and as they are written to a file: levels and names, never the sound.

export const walksKey = 'round-the-back.walks'
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

const form: ListForm<KeptWalk> = {
  storageKey: walksKey,
  list: 'walks',
  /** Of the stored form and of the file. */
  version: 1,
  entry: walk,
  say: {
    newerVersion: say.newerVersion,
    notJson: say.notJson,
    noVersion: say.noVersion,
    noList: say.noList,
    newerSite: say.newerSite,
    unreadable: say.unreadable,
    someUnread: say.someUnread,
    nothingKept: say.notKept,
    notKept: say.notKept,
    noRoom: say.notKept,
  },
}

/** What the device keeps, the newest walk first, and in words what of it cannot be read, or ''. Never throws. */
export function keptWalks(): { walks: KeptWalk[]; problem: string } {
  const { things, problems } = keptThings(form)
  return { walks: things, problem: problems[0] ?? '' }
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
    const before = keptThings(form)
    const isShownMore = before.text === null || !before.writable || isAhead
    const walks = change(isShownMore ? withWalks(shown, before.things) : before.things)
    if (walks.length > mostWalks) return { walks: walks.slice(0, mostWalks), problem: say.tooMany({ most: mostWalks }) }
    return { walks, problem: writeThings(form, before, walks) }
  })
}

/** Calls back when another tab has changed the walks; returns the function that ends it. */
export const onWalksChange = (listener: () => void): (() => void) => onKeptChange(walksKey, listener)

/** Walks as the text of one file. */
export const writeWalks = (walks: readonly KeptWalk[]): string => listText(form, walks)

/** Walks out of the text of a file, or in words why there are none; one that is not whole refuses the file. */
export function readWalks(text: string): KeptWalk[] | string {
  if (text.length > longestFile) return say.tooLong()
  const list = listIn(form, text)
  if (typeof list === 'string') return list
  const walks: KeptWalk[] = []
  for (const [index, entry] of list.entries()) {
    const read = readable(form, entry)
    if (typeof read === 'string') return say.wrong({ number: index + 1, reason: read })
    walks.push(read)
  }
  return walks.length > 0 ? walks : say.noList()
}

/** Adds the walks of a file that are not there yet, the newest first; one that is there stays as it is here. */
export function withWalks(before: readonly KeptWalk[], more: readonly KeptWalk[]): KeptWalk[] {
  const fresh = more.filter(({ key }) => !before.some((known) => known.key === key))
  return [...fresh, ...before].sort((a, b) => (a.begun < b.begun ? 1 : a.begun > b.begun ? -1 : 0))
}
