import { deflateSync, inflateSync, strFromU8, strToU8 } from 'fflate'
import * as v from 'valibot'
import type { Rig } from '../acoustics/index.ts'
import * as say from './enclosure.messages.ts'
import { longestName } from './own-list.ts'
import { plainWords } from './plain-words.ts'
import { rigSchema } from './rig-schema.ts'
import { type OwnHall, ownHallSchema } from './saved-halls.ts'
import { issueWords } from './schema-words.ts'
import { isEmpty, noWords, plainSender, type SenderWords } from './sender.ts'

// What travels inside a link besides the state of its figures: rigs and halls of the sender's own, a plan, and who sends it.

/** A rig as it travels. */
export type EnclosedRig = { name: string; rig: Rig }

/** A hall as it travels. */
export type EnclosedHall = { name: string; hall: OwnHall }

/** `plan`: as writePlan has it, for readPlanValue; undefined without one. */
export type Enclosure = { from: SenderWords; rigs: EnclosedRig[]; halls?: EnclosedHall[]; plan?: unknown }

/**
 * Forms of the text: a new one when it, or the dictionary, changes; the older ones are still read. What the first can say is written in
 * it, so that pages of before read it: it has words and rigs.
 */
type Version = 1 | 2
const newest: Version = 2
/** No page has more figures with a rig or a hall. */
const mostThings = 4
/** Longest text that is looked at, characters: above what is ever sent, so that nothing honest is refused. */
const longestText = 8000
/** What it may unfold to, bytes: ten times a rig of two cabinets, or as much as a plan's file. A text that wants more is no honest one. */
const mostBytes: Record<Version, number> = { 1: 24_000, 2: 400_000 }
/** Longest text of one value in it, letters: the note of a plan. */
const longestValue = 400
/** Bytes of the check sum, which come before the rest. */
const sumBytes = 4

/**
 * What such a text is made of, so that only what differs needs room: a rig takes half of what it would without. It belongs to
 * version 1 and is never changed.
 */
const firstDictionary =
  '{"from":{"name":"","reach":"+","note":""},"rigs":[{"name":"","rig":{"name":"","cabinets":[{"name":"own box","label":"","widthM":0.,"heightM":0.,"depthM":0.,"frontCentre":{"xM":0,"yM":1.6,"zM":0},"yawRad":0,"ways":[{"name":"low","label":"","drivers":[{"kind":"piston","radiusM":0.,"xM":0,"yM":-0.,"gain":1,"delayS":0.0}],"lowPass":{"alignment":"linkwitz-riley","order":4,"frequencyHz":1800},"port":{"diameterM":0.,"xM":0,"yM":0,"tuningHz":45}},{"name":"high","drivers":[{"kind":"horn","mouthWidthM":0.,"mouthHeightM":0.,"horizontalCoverageRad":1.5707963267948966,"verticalCoverageRad":1.0471975511965976,"xM":0,"yM":0}],"highPass":{"alignment":"butterworth","order":4,"frequencyHz":100}}]}]}}]}'

/** The second form's, never changed either: a hall and a plan before what the first has. */
const hallDictionary =
  '"halls":[{"name":"","hall":{"ground":{"kind":"outdoors","lengthM":,"widthM":,"ground":"hard"},"ground":"grass"},"rigAt":{"xM":-2.5,"zM":3},"places":[{"name":"","xM":0,"zM":0},{"name":"hard-walls","rendered-brick","bare-brick","painted-brick","smooth-concrete","concrete-floor","wooden-lining","thin-plywood","wood-floor-on-joists","plasterboard","plasterboard-ceiling","cotton-curtains","velvet-curtains","carpet-on-felt","brick-wall","panel-wall","steel-roof","hollow-door","open-door","wallOpposite","wallLeft","wallRight","compact-two-way/compact","column-on-base/base"'
const planDictionary =
  '"plan":{"version":1,"name":"","crew":"","note":"","ground":{"kind":"hall","lengthM":18,"widthM":11,"heightM":4.6,"surfaces":{"wallLeft":"wood-on-studs","wallRight":"wood-on-studs","floor":"wood-floor-over-air","ceiling":"wood-on-studs","wallBehind":"wood-on-studs","wallOpposite":"wood-on-studs"},"people":150},"stage":{"xM":1.35,"zM":2.5,"widthM":6.3,"depthM":2.6,"heightM":0.6},"stage":null,"cabinets":[{"id":"c1","box":"column-on-base/column","xM":-2.5,"zM":3,"baseM":1.5,"yawDeg":0,"levelDb":0,"delayMs":0,"inverted":true,"group":"1"},{"id":"c2","box":"compact-two-way/compact","xM":,"zM":,"baseM":1.62,"yawDeg":180,"levelDb":-3,"delayMs":0,"inverted":false,"group":""},{"id":"c3","box":"top-over-sub/top","xM":5.05,"zM":3,"baseM":1.62,"yawDeg":0,"levelDb":0,"delayMs":0,"inverted":false,"group":"right stack"},{"id":"c4","box":"top-over-sub/sub","xM":5.05,"zM":3,"baseM":0,"yawDeg":0,"levelDb":0,"delayMs":0,"inverted":false,"group":"left stack"}],"places":[{"id":"p1","name":"Dance floor","xM":1.3,"zM":9,"earM":1.6},{"id":"p2","name":"Quiet table","xM":-2.5,"zM":0.6,"earM":1.2},{"id":"p3","name":"Band","xM":1.3,"zM":2.2,"earM":2.2},{"id":"p4","name":"Bar","xM":-4.2,"zM":15.5,"earM":1.6}],"mainPlace":"p1","programmeDbA":95,"neighbour":{"name":"Cottage","side":"wallBehind","distanceM":40,"wall":"timber-wall","roof":"lined-roof","door":"solid-door","doorM2":4},"neighbour":null,"ownBoxes":[]}'
const dictionaries: Record<Version, Uint8Array> = {
  1: strToU8(firstDictionary),
  2: strToU8(hallDictionary + planDictionary + firstDictionary),
}

const thingName = v.pipe(v.string(), v.minLength(1), v.maxLength(longestName))
const form = v.strictObject({
  from: v.exactOptional(v.strictObject({ name: v.string(), reach: v.string(), note: v.string() })),
  rigs: v.exactOptional(v.pipe(v.array(v.strictObject({ name: thingName, rig: rigSchema })), v.maxLength(mostThings))),
  halls: v.exactOptional(
    v.pipe(v.array(v.strictObject({ name: thingName, hall: ownHallSchema })), v.maxLength(mostThings)),
  ),
  // What a plan has to be is a matter of the page that takes it.
  plan: v.exactOptional(v.unknown()),
})

/** Writes what is enclosed:  version . check sum and body  – deflated, in base 64 that no address has to escape. '' for nothing. */
export function writeEnclosure({ from, rigs, halls = [], plan }: Enclosure): string {
  const sender = plainSender(from)
  const parts = {
    ...(!isEmpty(sender) && { from: sender }),
    ...(rigs.length > 0 && { rigs }),
    ...(halls.length > 0 && { halls }),
    ...(plan !== undefined && { plan }),
  }
  if (Object.keys(parts).length === 0) return ''
  const version: Version = 'halls' in parts || 'plan' in parts ? newest : 1
  const text = JSON.stringify(parts)
  const dictionary = dictionaries[version]
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
  if (Number(versionText) > newest) return say.newer()
  const version = ([1, 2] as const).find((known) => String(known) === versionText)
  if (version === undefined) return say.unknownForm()
  if (text.length > longestText) return say.tooLong({ most: longestText })
  const bytes = bytesOf(body)
  const deflated = bytes?.subarray(sumBytes)
  if (!deflated || base64Of(summed(deflated)) !== body) return say.changed()
  const json = unfolded(deflated, version)
  if (json === undefined) return say.impossible()
  const read = v.safeParse(form, json)
  if (!read.success) return say.refused({ reason: issueWords(read.issues[0]) })
  const { from = noWords, rigs = [], halls, plan } = read.output
  return { from: plainSender(from), rigs, ...(halls && { halls }), ...(plan !== undefined && { plan }) }
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
function unfolded(deflated: Uint8Array, version: Version): unknown {
  try {
    // With room of a fixed size the library stops where it is full.
    const bytes = inflateSync(deflated, {
      dictionary: dictionaries[version],
      out: new Uint8Array(mostBytes[version]),
    })
    return JSON.parse(strFromU8(bytes), (_, value) =>
      typeof value === 'string' ? plainWords(value, longestValue) : value,
    )
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
