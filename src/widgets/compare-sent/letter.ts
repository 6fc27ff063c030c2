import { type ComparedGeometry, type Estimate, estimateOfHalf, halfIntervalDb } from '../../acoustics/index.ts'
import { type SentBand, type SentTest, sentDetailCount } from '../../engine/questions/compare/sent.ts'
import { heardBands } from '../../engine/scene/third-octaves.ts'
import { checkSum, DigitError, DigitReader, DigitWriter, mostIn } from '../../state/digit-text.ts'
import { isSiteAir } from '../../state/site-air.ts'
import * as say from './letter.messages.ts'

// A test with two microphones as the text of a link: what its verdict is made of, and a note. Never the sound, and never the verdict.

/** What a link holds of a test. */
export type Letter = {
  test: SentTest
  /** Whether the levels are those of practice recordings, which no loudspeaker made. */
  isPractice: boolean
  isMatched: boolean
  hasQuiet: boolean
  /** Whose levels were corrected by a file of the microphone. */
  isCorrected: { front: boolean; behind: boolean }
  /** Day on which the link was made, as 2026-05-01; null if that is not known. */
  date: string | null
  /** What the sender typed; '' for nothing. Plain text. */
  note: string
}

/** Form of the text: raised when it changes, and the older ones are still read. */
const version = 1
/** Longest note, characters as a text field counts them. */
export const longestNote = 200
/** Digits of the length and of the check sum, which come before the rest. */
const lengthDigits = 2
const sumDigits = 6
/** No honest link is longer, characters. */
const longestText = 4000

/**
 * Writes a letter:  version . length, check sum, body  – the body in digits of base 64, levels to 0.1 dB, lengths to 1 mm.
 *
 * @throws RangeError  for a level beyond ±204.7 dB or a length above 1000 m
 */
export function writeLetter(letter: Letter): string {
  const body = new DigitWriter()
  const { test, note, date } = letter
  body.number(flagsOf(letter), 2)
  body.number(date === null ? 0 : daysOf(date), 3)
  body.number(Math.round(10 * (test.air.temperatureC + 100)), 2)
  body.number(Math.round(10 * test.air.humidityPct), 2)
  for (const length of lengthsOf(test.geometry)) body.number(length === undefined ? none : millimetres(length), 4)
  for (const band of test.bands) writeBand(body, band)
  if (test.detail) {
    for (let band = 0; band < sentDetailCount; band++) {
      const estimate = test.detail[band]
      body.number(estimate ? levelCode(estimate.levelDb) : missing, 2)
      if (estimate) body.number(errorCode(halfIntervalDb(estimate)), 2)
    }
  }
  body.words(note.trim().slice(0, longestNote))
  const head = new DigitWriter()
  head.number(body.text.length, lengthDigits)
  head.number(checkSum(`${version}.${body.text}`), sumDigits)
  return `${version}.${head.text}${body.text}`
}

/**
 * Reads a letter. Never throws.
 *
 * @param text  as writeLetter gives it; what a mail program put behind it does not count
 * @returns  the letter, or in words why there is none
 */
export function readLetter(text: string): Letter | string {
  const form = /^(\d{1,4})\.([\w-]*)/.exec(text.slice(0, longestText))
  if (!form) return say.noLetter()
  const [, versionText, rest = ''] = form
  if (Number(versionText) > version) return say.newer()
  if (versionText !== String(version)) return say.noLetter()
  const headLength = lengthDigits + sumDigits
  if (rest.length < headLength) return say.cutShort({ there: rest.length })
  try {
    const head = new DigitReader(rest.slice(0, headLength))
    const [length, sum] = [head.number(lengthDigits), head.number(sumDigits)]
    const body = rest.slice(headLength, headLength + length)
    if (body.length < length) return say.cutShort({ there: body.length })
    if (checkSum(`${version}.${body}`) !== sum) return say.changed()
    return bodyOf(new DigitReader(body))
  } catch (error) {
    if (error instanceof DigitError) return say.impossible()
    throw error
  }
}

function bodyOf(body: DigitReader): Letter {
  const flags = body.number(2)
  const has = (bit: number) => (flags & (1 << bit)) !== 0
  const days = body.number(3)
  const air = { temperatureC: (body.number(2) - 1000) / 10, humidityPct: body.number(2) / 10 }
  if (!isSiteAir('temperatureC', air.temperatureC) || !isSiteAir('humidityPct', air.humidityPct)) refuse()
  const lengths = Array.from({ length: lengthCount }, () => lengthOf(body.number(4)))
  const geometry = geometryOf(lengths)
  const bands = heardBands.map(() => readBand(body))
  const detail = has(0)
    ? Array.from({ length: sentDetailCount }, (): Estimate | null => {
        const code = body.number(2)
        return code === missing ? null : estimateOfHalf(levelOf(code), errorOf(body.number(2)))
      })
    : null
  const note = plainNote(body.words())
  if (!body.isAtEnd || note.length > longestNote) refuse()
  return {
    test: { bands, detail, geometry, wallsAreEntered: has(1), bringTogether: has(2), air },
    isPractice: has(3),
    isMatched: has(4),
    hasQuiet: has(5),
    isCorrected: { front: has(6), behind: has(7) },
    date: days === 0 ? null : dateOf(days),
    note,
  }
}

function refuse(): never {
  throw new DigitError('A value is outside what is allowed.')
}

const flagsOf = ({ test, isPractice, isMatched, hasQuiet, isCorrected }: Letter): number =>
  [
    test.detail !== null,
    test.wallsAreEntered,
    test.bringTogether,
    isPractice,
    isMatched,
    hasQuiet,
    isCorrected.front,
    isCorrected.behind,
  ].reduce((sum, flag, bit) => sum + (flag ? 1 << bit : 0), 0)

/** Levels: tenths of a dB from −204.7 on. */
const missing = mostIn(2)
const zeroLevel = 2047
function levelCode(levelDb: number): number {
  const code = Math.round(10 * levelDb) + zeroLevel
  if (!(code >= 0 && code < missing)) throw new RangeError(`levelDb is ${levelDb}; allowed is −204.7 to 204.7 dB`)
  return code
}
const levelOf = (code: number): number => (code - zeroLevel) / 10

/** Errors and degrees of freedom: steps of a constant ratio, so that each is told to within half of it; 0 is exactly none. */
const leastError = 1e-3
const errorRatio = 1.003
const errorCode = (errorDb: number): number =>
  errorDb <= 0
    ? 0
    : Math.min(missing, 1 + Math.max(0, Math.round(Math.log(errorDb / leastError) / Math.log(errorRatio))))
const errorOf = (code: number): number => (code === 0 ? 0 : leastError * errorRatio ** (code - 1))
const freedomRatio = 1.006
const freedomCode = (freedom: number): number =>
  Math.min(missing, Math.max(0, Math.floor(Math.log(freedom) / Math.log(freedomRatio) + 1e-9)))
const freedomOf = (code: number): number => Math.min(1e9, freedomRatio ** code)

function writeBand(body: DigitWriter, band: SentBand): void {
  const { levels, difference } = band ?? {}
  if (!levels || !difference) {
    body.number(missing, 2)
    return
  }
  body.number(levelCode(levels.front.levelDb), 2)
  body.number(levelCode(levels.behind.levelDb), 2)
  for (const { errorDb } of [levels.front, levels.behind, difference]) body.number(errorCode(errorDb), 2)
  body.number(freedomCode(difference.freedom), 2)
}

function readBand(body: DigitReader): SentBand {
  const code = body.number(2)
  if (code === missing) return null
  const [front, behind] = [levelOf(code), levelOf(body.number(2))]
  const [frontError, behindError, error] = [body.number(2), body.number(2), body.number(2)].map(errorOf)
  const freedom = freedomOf(body.number(2))
  const estimate = (levelDb: number, errorDb = 0): Estimate => ({ levelDb, errorDb, freedom })
  return {
    levels: { front: estimate(front, frontError), behind: estimate(behind, behindError) },
    difference: estimate(Math.round(10 * (front - behind)) / 10, error),
  }
}

/** Lengths of a geometry: three of its own, four of either place. */
const lengthCount = 11
/** No length. */
const none = mostIn(4)
const longestM = 1000
const placeNames = ['distanceM', 'heightM', 'wallBeyondM', 'wallBesideM'] as const

function lengthsOf({ sourceHeightM, boxDepthM, wallBehindBoxM, front, behind }: ComparedGeometry) {
  return [
    sourceHeightM,
    boxDepthM,
    wallBehindBoxM,
    ...[front, behind].flatMap((place) => placeNames.map((name) => place[name])),
  ]
}

function millimetres(lengthM: number): number {
  if (!(lengthM >= 0 && lengthM <= longestM))
    throw new RangeError(`length is ${lengthM}; allowed is 0 to ${longestM} m`)
  return Math.round(1000 * lengthM)
}

function lengthOf(code: number): number | undefined {
  if (code === none) return undefined
  return code <= 1000 * longestM ? code / 1000 : refuse()
}

function geometryOf(lengths: readonly (number | undefined)[]): ComparedGeometry {
  const given = <N extends string>(names: readonly N[], from: number) =>
    Object.fromEntries(
      names.flatMap((name, index) => (lengths[from + index] === undefined ? [] : [[name, lengths[from + index]]])),
    ) as { [K in N]?: number }
  const place = (from: number) => {
    const { distanceM, ...others } = given(placeNames, from)
    return distanceM === undefined || distanceM < 0.1 ? refuse() : { distanceM, ...others }
  }
  return { ...given(['sourceHeightM', 'boxDepthM', 'wallBehindBoxM'], 0), front: place(3), behind: place(7) }
}

const dayMs = 86_400_000
const firstDay = Date.UTC(2000, 0, 1) / dayMs - 1
const daysOf = (date: string): number => Math.min(mostIn(3), Math.max(0, Date.parse(date) / dayMs - firstDay || 0))
const dateOf = (days: number): string => new Date((days + firstDay) * dayMs).toISOString().slice(0, 10)

/** Words in one line, without signs that turn the direction of what follows. */
const plainNote = (note: string): string =>
  note
    .replace(/[\u200e\u200f\u202a-\u202e\u2066-\u2069]/g, '')
    .replace(/\p{Cc}+/gu, ' ')
    .trim()
