import * as v from 'valibot'
import { contourLevelDb } from '../../acoustics/index.ts'
import { inTurn } from '../../state/in-turn.ts'
import * as say from './match-by-ear.messages.ts'

/** A tone that the reader made as loud as 1 kHz: how much more level it needed, dB. */
export type MatchedTone = { frequencyHz: number; differenceDb: number }

/** What the listening test keeps on this device. */
export type MatchedTones = {
  /** The reader's guess of how loud the 1 kHz tone was, phon. */
  referencePhon: number
  tones: MatchedTone[]
}

/** The tones of the test, Hz. */
export const testTonesHz = [40, 63, 125, 250, 500, 2000, 4000, 8000] as const

/** In which order they come up: the easy ones near 1 kHz first. */
export const testOrderHz: readonly number[] = [500, 250, 125, 63, 40, 2000, 4000, 8000]

/** Peak of the 1 kHz tone, dB re full scale: the strongest test tone, 44 dB more, then stays under the ceiling. */
export const referencePeakDb = -46

/** Widest range of a match, dB re the 1 kHz tone. Its upper end keeps the strongest tone below full scale. */
const widestRangeDb = { min: -20, max: 44 } as const
/** How far a tone can be set above what the standard asks for, dB: room for a weak device, without making treble painful. */
const roomDb = 12

/** Range that a tone can be set in, whole dB re the 1 kHz tone. */
export function matchRangeDb(frequencyHz: number): { min: number; max: number } {
  const { min, max } = referencePhonRange
  const asked = [min, max].map((phon) => contourLevelDb(phon, frequencyHz) - phon)
  return { ...widestRangeDb, max: Math.min(widestRangeDb.max, Math.ceil(Math.max(...asked) + roomDb)) }
}

/** Where every tone begins, dB re the 1 kHz tone: too soft, so that nothing starts loud. */
export const matchStartDb = -10

/** Range of the reader's guess of the 1 kHz tone, phon. */
export const referencePhonRange = { min: 40, max: 80, step: 5, usual: 60 } as const

export const matchedTonesKey = 'round-the-back.matched-tones'
const version = 1

/** Where the results are kept: the device's local storage, or something of its shape. */
export type ToneStore = Pick<Storage, 'getItem' | 'setItem' | 'removeItem'>

const stored = v.strictObject({
  version: v.literal(version),
  referencePhon: v.pipe(v.number(), v.minValue(referencePhonRange.min), v.maxValue(referencePhonRange.max)),
  tones: v.pipe(
    v.array(
      v.strictObject({
        frequencyHz: v.picklist(testTonesHz),
        differenceDb: v.pipe(v.number(), v.minValue(widestRangeDb.min), v.maxValue(widestRangeDb.max)),
      }),
    ),
    v.check((tones) => new Set(tones.map(({ frequencyHz }) => frequencyHz)).size === tones.length, 'a tone twice'),
  ),
})

const nothing = (): MatchedTones => ({ referencePhon: referencePhonRange.usual, tones: [] })

/**
 * What is kept on this device. Never throws: what cannot be read counts as nothing, is left as it is, and is told.
 *
 * @returns  the results, what to tell the reader ('' if nothing), and whether they may be written over
 */
export function readMatchedTones(store: ToneStore | undefined = deviceStore()): {
  kept: MatchedTones
  problem: string
  writable: boolean
} {
  const unable = { kept: nothing(), problem: say.nothingKept(), writable: false }
  if (!store) return unable
  let text: string | null
  try {
    text = store.getItem(matchedTonesKey)
  } catch {
    return unable
  }
  if (text === null) return { kept: nothing(), problem: '', writable: true }
  const result = v.safeParse(stored, parsed(text))
  if (!result.success) return { kept: nothing(), problem: say.unreadable(), writable: false }
  const { referencePhon, tones } = result.output
  return { kept: { referencePhon, tones }, problem: '', writable: true }
}

/**
 * Changes what is kept on this device, in turn with other tabs of the site: what they have kept meanwhile stays. Never rejects.
 *
 * @param change  the results that are to be kept, from those that are
 * @returns       what is kept now, unless there is a problem, which is told in words, or ''
 */
export async function changeMatchedTones(
  change: (kept: MatchedTones) => MatchedTones,
  store: ToneStore | undefined = deviceStore(),
): Promise<{ kept: MatchedTones; problem: string }> {
  return inTurn(matchedTonesKey, () => {
    const before = readMatchedTones(store)
    if (!store || !before.writable) return before
    const kept = change(before.kept)
    try {
      store.setItem(matchedTonesKey, JSON.stringify({ version, ...kept }))
    } catch {
      return { kept: before.kept, problem: say.noRoom() }
    }
    return { kept, problem: '' }
  })
}

/** Removes everything that the test has kept; returns the problem in words, or ''. Never rejects. */
export async function clearMatchedTones(store: ToneStore | undefined = deviceStore()): Promise<string> {
  return inTurn(matchedTonesKey, () => {
    try {
      store?.removeItem(matchedTonesKey)
      return ''
    } catch {
      return say.notCleared()
    }
  })
}

/** Calls `listener` when another tab has changed what is kept; returns the function that ends it. */
export function onMatchedTonesElsewhere(listener: () => void): () => void {
  const elsewhere = ({ key }: StorageEvent) => {
    if (key === null || key === matchedTonesKey) listener()
  }
  addEventListener('storage', elsewhere)
  return () => removeEventListener('storage', elsewhere)
}

function parsed(text: string): unknown {
  try {
    return JSON.parse(text)
  } catch {
    return undefined
  }
}

/** Local storage, or nothing where the browser forbids it (even asking may throw) or there is none. */
function deviceStore(): ToneStore | undefined {
  try {
    return typeof localStorage === 'undefined' ? undefined : localStorage
  } catch {
    return undefined
  }
}
