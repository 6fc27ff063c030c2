import { deflateSync, inflateSync, strFromU8, strToU8 } from 'fflate'
import * as v from 'valibot'
import type { Rig } from '../acoustics/index.ts'
import { checkSum, DigitError, DigitReader, DigitWriter } from './digit-text.ts'
import * as say from './enclosure.messages.ts'
import { plainWords } from './plain-words.ts'
import { rigSchema } from './rig-schema.ts'
import { longestName } from './saved-rigs.ts'
import { issueWords } from './schema-words.ts'
import { isEmpty, noWords, plainSender, type SenderWords } from './sender.ts'

// What travels inside a link besides the state of its figures: rigs of the sender's own, and who sends it.

/** A rig as it travels. */
export type EnclosedRig = { name: string; rig: Rig }

export type Enclosure = { from: SenderWords; rigs: EnclosedRig[] }

/** Form of the text: raised when it, or the dictionary, changes; the older ones are still read. */
const version = 1
/** No page has more figures with a rig. */
const mostRigs = 4
/** Longest text that is looked at, characters: above what is ever sent, so that nothing honest is refused. */
const longestText = 8000
/** What it may unfold to, bytes: ten times a rig of two cabinets. A text that wants more is no honest one. */
const mostBytes = 24_000
const sumDigits = 6

/**
 * What such a text is made of, so that only what differs needs room: a rig takes half of what it would without. It belongs to
 * version 1 and is never changed.
 */
const dictionary = strToU8(
  '{"from":{"name":"","reach":"+","note":""},"rigs":[{"name":"","rig":{"name":"","cabinets":[{"name":"own box","label":"","widthM":0.,"heightM":0.,"depthM":0.,"frontCentre":{"xM":0,"yM":1.6,"zM":0},"yawRad":0,"ways":[{"name":"low","label":"","drivers":[{"kind":"piston","radiusM":0.,"xM":0,"yM":-0.,"gain":1,"delayS":0.0}],"lowPass":{"alignment":"linkwitz-riley","order":4,"frequencyHz":1800},"port":{"diameterM":0.,"xM":0,"yM":0,"tuningHz":45}},{"name":"high","drivers":[{"kind":"horn","mouthWidthM":0.,"mouthHeightM":0.,"horizontalCoverageRad":1.5707963267948966,"verticalCoverageRad":1.0471975511965976,"xM":0,"yM":0}],"highPass":{"alignment":"butterworth","order":4,"frequencyHz":100}}]}]}}]}',
)

const form = v.strictObject({
  from: v.exactOptional(v.strictObject({ name: v.string(), reach: v.string(), note: v.string() })),
  rigs: v.exactOptional(
    v.pipe(
      v.array(v.strictObject({ name: v.pipe(v.string(), v.minLength(1), v.maxLength(longestName)), rig: rigSchema })),
      v.maxLength(mostRigs),
    ),
  ),
})

/** Writes what is enclosed:  version . check sum, body  – the body deflated, in base 64 that no address has to escape. '' for nothing. */
export function writeEnclosure({ from, rigs }: Enclosure): string {
  const sender = plainSender(from)
  if (isEmpty(sender) && rigs.length === 0) return ''
  const text = JSON.stringify({ ...(!isEmpty(sender) && { from: sender }), ...(rigs.length > 0 && { rigs }) })
  const body = base64Of(deflateSync(strToU8(text), { level: 9, dictionary }))
  const sum = new DigitWriter()
  sum.number(checkSum(`${version}.${body}`), sumDigits)
  return `${version}.${sum.text}${body}`
}

/**
 * Reads what is enclosed. Never throws.
 *
 * @param text  as writeEnclosure gives it; what a chat program put behind it does not count
 * @returns     rigs that passed the schema of saved ones and words that are fit to be shown, or in words why there is nothing
 */
export function readEnclosure(text: string): Enclosure | string {
  const [, versionText, rest = ''] = /^(\d{1,4})\.([\w-]*)/.exec(text.slice(0, longestText + 1)) ?? []
  if (versionText === undefined) return say.unknownForm()
  if (Number(versionText) > version) return say.newer()
  if (versionText !== String(version)) return say.unknownForm()
  if (text.length > longestText) return say.tooLong({ most: longestText })
  const body = rest.slice(sumDigits)
  if (sumOf(rest) !== checkSum(`${version}.${body}`)) return say.changed()
  const json = unfolded(body)
  if (json === undefined) return say.impossible()
  const read = v.safeParse(form, json)
  if (!read.success) return say.refused({ reason: issueWords(read.issues[0]) })
  return { from: plainSender(read.output.from ?? noWords), rigs: read.output.rigs ?? [] }
}

function sumOf(text: string): number | undefined {
  try {
    return new DigitReader(text.slice(0, sumDigits)).number(sumDigits)
  } catch (error) {
    if (error instanceof DigitError) return undefined
    throw error
  }
}

/** The value that was written, every word in it fit to be shown; undefined if the text holds none, or too much. */
function unfolded(body: string): unknown {
  try {
    // With room of a fixed size the library stops where it is full.
    const bytes = inflateSync(bytesOf(body), { dictionary, out: new Uint8Array(mostBytes) })
    return JSON.parse(strFromU8(bytes), (_, value) => (typeof value === 'string' ? plainWords(value, 280) : value))
  } catch {
    return undefined
  }
}

const base64Of = (bytes: Uint8Array): string =>
  btoa(String.fromCharCode(...bytes))
    .replaceAll('+', '-')
    .replaceAll('/', '_')
    .replaceAll('=', '')

const bytesOf = (text: string): Uint8Array =>
  Uint8Array.from(atob(text.replaceAll('-', '+').replaceAll('_', '/')), (letter) => letter.charCodeAt(0))
