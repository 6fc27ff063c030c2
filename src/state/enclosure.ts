import { deflateSync, inflateSync, strFromU8, strToU8 } from 'fflate'
import * as v from 'valibot'
import type { Rig } from '../acoustics/index.ts'
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
/** Bytes of the check sum, which come before the rest. */
const sumBytes = 4

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

/** Writes what is enclosed:  version . check sum and body  – deflated, in base 64 that no address has to escape. '' for nothing. */
export function writeEnclosure({ from, rigs }: Enclosure): string {
  const sender = plainSender(from)
  if (isEmpty(sender) && rigs.length === 0) return ''
  const text = JSON.stringify({ ...(!isEmpty(sender) && { from: sender }), ...(rigs.length > 0 && { rigs }) })
  return `${version}.${base64Of(summed(deflateSync(strToU8(text), { level: 9, dictionary })))}`
}

/**
 * Reads what is enclosed. Never throws.
 *
 * @param text  as writeEnclosure gives it; what a chat program put behind it does not count
 * @returns     rigs that passed the schema of saved ones and words that are fit to be shown, or in words why there is nothing
 */
export function readEnclosure(text: string): Enclosure | string {
  const [, versionText, body = ''] = /^(\d{1,4})\.([\w-]*)/.exec(text.slice(0, longestText + 1)) ?? []
  if (versionText === undefined) return say.unknownForm()
  if (Number(versionText) > version) return say.newer()
  if (versionText !== String(version)) return say.unknownForm()
  if (text.length > longestText) return say.tooLong({ most: longestText })
  const bytes = bytesOf(body)
  const deflated = bytes?.subarray(sumBytes)
  if (!deflated || base64Of(summed(deflated)) !== body) return say.changed()
  const json = unfolded(deflated)
  if (json === undefined) return say.impossible()
  const read = v.safeParse(form, json)
  if (!read.success) return say.refused({ reason: issueWords(read.issues[0]) })
  return { from: plainSender(read.output.from ?? noWords), rigs: read.output.rigs ?? [] }
}

/** Bytes with their check sum in front, so that one byte that is lost or changed on the way is noticed. Source: FNV-1a, 32 bits (Fowler, Noll, Vo). */
function summed(bytes: Uint8Array): Uint8Array {
  const whole = new Uint8Array(sumBytes + bytes.length)
  whole.set(bytes, sumBytes)
  const sum = bytes.reduce((hash, byte) => Math.imul(hash ^ byte, 0x01000193), 0x811c9dc5)
  new DataView(whole.buffer).setInt32(0, sum)
  return whole
}

/** The value that was written, every word in it fit to be shown; undefined if the text holds none, or too much. */
function unfolded(deflated: Uint8Array): unknown {
  try {
    // With room of a fixed size the library stops where it is full.
    const bytes = inflateSync(deflated, { dictionary, out: new Uint8Array(mostBytes) })
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

/** The bytes of such a text; undefined if it cannot be one. */
function bytesOf(text: string): Uint8Array | undefined {
  try {
    return Uint8Array.from(atob(text.replaceAll('-', '+').replaceAll('_', '/')), (letter) => letter.charCodeAt(0))
  } catch {
    return undefined
  }
}
