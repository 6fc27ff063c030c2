import { axesOf, axisImages } from '../acoustics/field/hall-field.ts'
import { handedOver } from '../acoustics/field/hand-over.ts'
import {
  absorptionDbPerM,
  amplitudeRatio,
  aWeightingDb,
  type Band,
  type Complex,
  decayTimeS,
  earlySound,
  fromPolar,
  hallField,
  impulseResponse,
  interpolatedTransfer,
  multiply,
  type PlanPoint,
  type Point,
  type Rig,
  realDft,
  reverberantTail,
  transferKnotsHz,
  weightedLevelDb,
} from '../acoustics/index.ts'
import { requireInRange } from '../acoustics/numeric-range.ts'
import { inverseRealDft } from '../acoustics/signals/dft.ts'
import { air, aWeightedAtReferenceDb, passbandDb } from './free-field.ts'
import { directLevelsDb, frontDistanceM, levelsAt, type PartsScene, requirePlace, sceneOf } from './hall-parts.ts'
import type { HallDesign } from './hall-scene.ts'
import { heardBands } from './heard.ts'
import { rigInHall } from './room.ts'
import { earHeightM } from './walk-terms.ts'

/** What is heard against what: the listener against the front, or the same place outdoors, or in another hall. */
export type HallCompare = 'places' | 'outdoors' | 'halls'

export type HallResponseQuestion = {
  rig: Rig
  hall: HallDesign
  place: PlanPoint
  /** What 'places' compares with; the place straight in front as far from the front face unless given. */
  front?: PlanPoint
  compare: HallCompare
  /** The other hall, for 'halls'. */
  other?: HallDesign
  /** 8000 … 192 000 Hz. */
  sampleRateHz: number
}

/** Both responses, and how loud pink noise is through the second re the place where the rig is set flat, dB, A-weighted. */
export type HallResponses = { here: Float32Array; front: Float32Array; frontReDbA: number }

/** Start of a response before the direct sound, s, as in the walk-round. */
const leadS = 0.006

/** Length of the early part with its run-up, samples: at 48 kHz room for 50 ms of early images and what a box rings on. */
const earlyLength = 8192

/** What the band limit spreads to before the lead is let go here, not round to the end, samples. */
const runUp = 2048

/** The longest response, s; what a hall still rings beyond is faded out. */
const longestS = 2.75

/** Part of the response at its end over which it is faded out. */
const fadedPart = 0.1

/** Rounds in which the third octaves are brought to the predicted levels, and the largest change of one band, dB. */
const correctionRounds = 3
const largestCorrectionDb = 8

/**
 * The impulse responses that the sound is rendered with, 0 dB = the passband of the direct sound in front. Each is
 *
 *   the sum of images at every line below the reverberant field's first band, with all resonances;
 *   above it the direct sound and the early images, one by one, and the reverberant tail that follows them.
 *
 * In the end every third octave is brought to the level that hallAnswer gives it, by a filter without phase: the tail is one throw of
 * dice, and one place scatters about a mean over places by 1 to 2 dB.
 *
 * @returns here and front: for 'outdoors' and 'halls', the listener's place here and there
 * @throws RangeError as hallAnswer, or for a sample rate out of range
 */
export function hallResponses(question: HallResponseQuestion): HallResponses {
  const { rig, hall, compare, other } = question
  const sampleRateHz = requireInRange('sampleRateHz', question.sampleRateHz, { min: 8000, max: 192000, unit: 'Hz' })
  const place = requirePlace(rig, hall, question.place)
  const frontPlace = question.front ?? { xM: 0, zM: frontDistanceM(Math.hypot(place.xM, place.zM), hall) }
  const parts = sceneOf(rig, hall)
  const gain = amplitudeRatio(-passbandDb(directLevelsDb(parts.free, frontPlace)))
  const here = hallResponse(parts, place, gain, sampleRateHz, 1)
  const reDbA = (levels: Float64Array) =>
    weightedLevelDb(levels, heardBands, aWeightingDb) - aWeightedAtReferenceDb(parts.free)
  if (compare === 'outdoors') {
    const front = outdoorResponse(parts, place, gain, sampleRateHz)
    return { here, front, frontReDbA: reDbA(directLevelsDb(parts.free, place)) }
  }
  if (compare === 'places') {
    const front = hallResponse(parts, frontPlace, gain, sampleRateHz, 2)
    return { here, front, frontReDbA: reDbA(levelsAt(parts, frontPlace).total) }
  }
  if (!other) throw new RangeError('other is missing; allowed is the hall to compare with')
  const elsewhere = requirePlace(rig, other, place)
  const otherParts = sceneOf(rig, other)
  const front = hallResponse(otherParts, elsewhere, gain, sampleRateHz, 1)
  return { here, front, frontReDbA: reDbA(levelsAt(otherParts, elsewhere).total) }
}

function hallResponse(
  parts: PartsScene,
  place: PlanPoint,
  gain: number,
  sampleRateHz: number,
  seed: number,
): Float32Array {
  const { scene, lateFromHz } = parts
  const tails = heardBands
    .filter(({ lowerHz, upperHz }) => lowerHz >= lateFromHz && upperHz <= sampleRateHz / 2)
    .map((band) => ({
      band,
      decayTimeS: decayTimeS(scene.hall, band.centreHz, air),
      meanSquare: gain * gain * scene.levels.lateMeanSquare(band.centreHz),
    }))
  const lowDecayS = decayTimeS(scene.hall, lateFromHz / 2, air)
  const wantedS = Math.min(longestS, 1.1 * Math.max(lowDecayS, ...tails.map((tail) => tail.decayTimeS)))
  const length = 2 ** Math.floor(Math.log2(longestS * sampleRateHz))
  const used = length / 2 >= wantedS * sampleRateHz ? length / 2 : length
  const sum = reverberantTail(tails, {
    sampleRateHz,
    length: used,
    startS: leadS,
    speedOfSoundMps: air.speedOfSoundMps,
    seed,
  })
  const early = earlyResponse(parts, place, gain, sampleRateHz)
  const low = lowResponse(parts, place, gain, sampleRateHz, used)
  for (let i = 0; i < used; i++) sum[i] = (sum[i] as number) + (low[i] as number) + (early[i + runUp] ?? 0)
  const faded = Math.floor(fadedPart * used)
  for (let i = 0; i < faded; i++) {
    sum[used - 1 - i] = (sum[used - 1 - i] as number) * Math.sin((Math.PI / 2) * (i / faded)) ** 2
  }
  const wantedDb = levelsAt(parts, place).total.map((level) => level + 20 * Math.log10(gain))
  return levelled(sum, wantedDb, sampleRateHz)
}

/** Share of the part above: 0 … 1 over the third octave below lateFromHz. */
function shareAbove(frequencyHz: number, lateFromHz: number): number {
  const x = 1 + Math.log10(frequencyHz / lateFromHz) / 0.1
  return Math.sin((Math.PI / 2) * Math.max(0, Math.min(1, x))) ** 2
}

/** Lowest frequency of the sum of images, Hz; no cabinet plays below. */
const lowestHz = 10

/** The scenes whose fields are kept: two halls can be heard against each other, and each takes some tens of megabytes. */
let heardScenes: PartsScene[] = []

function keepFields(parts: PartsScene): void {
  const others = heardScenes.filter((each) => each !== parts)
  for (const old of others.slice(1)) old.fields.clear()
  heardScenes = [parts, ...others.slice(0, 1)]
}

/** All images, at every line below lateFromHz. The fields are kept for the next place. */
function lowResponse(
  parts: PartsScene,
  place: PlanPoint,
  gain: number,
  sampleRateHz: number,
  length: number,
): Float32Array {
  const { scene, lateFromHz, fields } = parts
  keepFields(parts)
  const listener = scene.toHall({ ...place, yM: earHeightM })
  const directM = Math.hypot(place.xM, place.zM)
  return impulseResponse(
    (frequencyHz) => {
      if (frequencyHz < lowestHz || frequencyHz >= lateFromHz) return { re: 0, im: 0 }
      let field = fields.get(frequencyHz)
      if (!field) {
        field = hallField(scene.sources, scene.hall, frequencyHz, air)
        fields.set(frequencyHz, field)
      }
      const share = gain * (1 - shareAbove(frequencyHz, lateFromHz))
      const aheadS = directM / air.speedOfSoundMps - leadS
      return multiply(field(listener), fromPolar(share, 2 * Math.PI * frequencyHz * aheadS))
    },
    { sampleRateHz, length },
  )
}

/** One early image: where the listener's mirror image is, in the rig's coordinates, and along each axis which factor it takes. */
type EarlyImage = { at: Point; travelM: number; lateM: number; fade: number; offs: [number, number, number] }

/** The direct sound and the early images as hallLevels has them, above lateFromHz. */
function earlyResponse(parts: PartsScene, place: PlanPoint, gain: number, sampleRateHz: number): Float32Array {
  const { scene, free, lateFromHz } = parts
  const source = scene.toHall(highestCabinet(free.rig).frontCentre)
  const listener = scene.toHall({ ...place, yM: earHeightM })
  const directM = Math.hypot(listener.xM - source.xM, listener.yM - source.yM, listener.zM - source.zM)
  const imagesAt = (frequencyHz: number) => {
    const [x, y, z] = axesOf(scene.hall, frequencyHz)
    const withinM = directM + earlySound.toM
    return [
      axisImages(x, listener.xM, source.xM, withinM),
      axisImages(y, listener.yM, source.yM, withinM),
      axisImages(z, listener.zM, source.zM, withinM),
    ] as const
  }
  const images: EarlyImage[] = []
  const [xs, ys, zs] = imagesAt(1000)
  for (const { offM: x } of xs) {
    for (const { offM: y } of ys) {
      for (const { offM: z } of zs) {
        const travelM = Math.hypot(x, y, z)
        const fade = 1 - handedOver(earlySound, travelM - directM)
        if (fade <= 0) continue
        const at = {
          xM: source.xM + x - rigInHall.xM,
          yM: source.yM + y - rigInHall.yM,
          zM: source.zM + z - rigInHall.zM,
        }
        images.push({ at, travelM, lateM: Math.max(0, travelM - directM), fade, offs: [x, y, z] })
      }
    }
  }
  const knotsHz = transferKnotsHz({ fineStepHz: sampleRateHz / earlyLength, widestStepHz: 24, toHz: sampleRateHz / 2 })
  const factors = new Map<number, Map<number, number>[]>()
  const factorOf = (frequencyHz: number, { offs, lateM, fade }: EarlyImage): number => {
    const ofHz = Math.max(lowestHz, frequencyHz)
    let known = factors.get(ofHz)
    if (!known) {
      known = imagesAt(ofHz).map((axis) => new Map(axis.map(({ offM, factor }) => [offM, factor])))
      factors.set(ofHz, known)
    }
    const walls = offs.reduce((product, off, axis) => product * (known[axis]?.get(off) ?? 0), 1)
    return walls * fade * amplitudeRatio(-absorptionDbPerM(ofHz, air) * lateM)
  }
  const arrivals = images.map((image) => ({
    delayS: leadS + runUp / sampleRateHz + image.lateM / air.speedOfSoundMps,
    transfer: interpolatedTransfer((frequencyHz) => {
      if (frequencyHz === 0) return { re: 0, im: 0 }
      const aheadRad = (2 * Math.PI * frequencyHz * image.travelM) / air.speedOfSoundMps
      return multiply(free.transferAt(image.at, frequencyHz), fromPolar(gain * factorOf(frequencyHz, image), aheadRad))
    }, knotsHz),
  }))
  return impulseResponse(
    (frequencyHz) => {
      const share = shareAbove(frequencyHz, lateFromHz)
      const sum = { re: 0, im: 0 }
      if (share === 0) return sum
      for (const { delayS, transfer } of arrivals) {
        const arrival: Complex = multiply(transfer(frequencyHz), fromPolar(share, -2 * Math.PI * frequencyHz * delayS))
        sum.re += arrival.re
        sum.im += arrival.im
      }
      return sum
    },
    { sampleRateHz, length: earlyLength },
  )
}

/** The same place without a hall. */
function outdoorResponse({ free }: PartsScene, place: PlanPoint, gain: number, sampleRateHz: number): Float32Array {
  const knotsHz = transferKnotsHz({ fineStepHz: sampleRateHz / earlyLength, widestStepHz: 24, toHz: sampleRateHz / 2 })
  const aheadM = Math.hypot(place.xM, place.zM)
  const early = interpolatedTransfer(
    (frequencyHz) =>
      multiply(
        free.transferAt({ ...place, yM: earHeightM }, frequencyHz),
        fromPolar(gain, (2 * Math.PI * frequencyHz * aheadM) / air.speedOfSoundMps),
      ),
    knotsHz,
  )
  return impulseResponse(
    (frequencyHz) => multiply(early(frequencyHz), fromPolar(1, -2 * Math.PI * frequencyHz * leadS)),
    { sampleRateHz, length: earlyLength },
  )
}

/** The cabinet with the highest way: it alone plays at high frequencies, where travel times matter most. */
function highestCabinet(rig: Rig): Rig['cabinets'][number] {
  const startsHz = (cabinet: Rig['cabinets'][number]) =>
    Math.max(...cabinet.ways.map((way) => way.highPass?.frequencyHz ?? 0))
  return rig.cabinets.reduce((best, next) => (startsHz(next) > startsHz(best) ? next : best))
}

/**
 * Mean |H|² of a response in a band, for pink noise, from its spectrum.
 *
 * @param re, im  half spectrum of a response of `length` samples
 */
export function pinkMeanSquare(
  { re, im }: { re: Float64Array; im: Float64Array },
  band: Band,
  sampleRateHz: number,
  length: number,
): number {
  const stepHz = sampleRateHz / length
  let [sum, weights] = [0, 0]
  for (let k = Math.ceil(band.lowerHz / stepHz); k * stepHz < band.upperHz && k < re.length; k++) {
    sum += ((re[k] as number) ** 2 + (im[k] as number) ** 2) / k
    weights += 1 / k
  }
  return weights === 0 ? 0 : sum / weights
}

/** The response with every third octave at its wanted level: a filter of gain alone, straight lines in dB between mid-bands. */
function levelled(response: Float32Array, wantedDb: Float64Array, sampleRateHz: number): Float32Array {
  const length = response.length
  const spectrum = realDft(response)
  const bands = heardBands.filter(({ upperHz }) => upperHz <= sampleRateHz / 2)
  for (let round = 0; round < correctionRounds; round++) {
    const lackDb = bands.map((band, index) => {
      const isDb = 10 * Math.log10(Math.max(pinkMeanSquare(spectrum, band, sampleRateHz, length), 1e-30))
      return Math.max(-largestCorrectionDb, Math.min(largestCorrectionDb, (wantedDb[index] as number) - isDb))
    })
    for (let k = 1; k < spectrum.re.length; k++) {
      const at = 10 * Math.log10((k * sampleRateHz) / length / 1000) - (bands[0]?.index ?? 0)
      const low = Math.max(0, Math.min(bands.length - 1, Math.floor(at)))
      const high = Math.min(bands.length - 1, low + 1)
      const share = Math.max(0, Math.min(1, at - low))
      const gain = amplitudeRatio((lackDb[low] as number) * (1 - share) + (lackDb[high] as number) * share)
      spectrum.re[k] = (spectrum.re[k] as number) * gain
      spectrum.im[k] = (spectrum.im[k] as number) * gain
    }
  }
  return Float32Array.from(inverseRealDft(spectrum, length))
}
