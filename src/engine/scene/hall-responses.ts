import {
  amplitudeRatio,
  aWeightingDb,
  decayTimeS,
  type PlanPoint,
  type Rig,
  reverberantTail,
  statisticalShare,
  weightedLevelDb,
} from '../../acoustics/index.ts'
import { requireInRange } from '../../acoustics/numeric-range.ts'
import { airOf, type InAir } from './air.ts'
import { aWeightedAtReferenceDb, passbandDb } from './free-field.ts'
import { directDistanceM, earlyResponse, outdoorResponse, runUp } from './hall-early.ts'
import { levelled } from './hall-level-correction.ts'
import { heardJoinHz, lowResponse } from './hall-low.ts'
import { directLevelsDb, type HallRig, hallFrontM, hallLevelsAt, hallRig, requireHallPlace } from './hall-rig.ts'
import type { HallDesign } from './hall-scene.ts'
import { leadInS, type Responses } from './responses.ts'
import { heardBands } from './third-octaves.ts'

/** What is heard against what: the listener against the front, or the same place outdoors, or in another hall. */
export type HallCompare = 'places' | 'outdoors' | 'halls'

export type HallResponseQuestion = InAir & {
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
export type HallResponses = Responses & { frontReDbA: number }

/** The longest response, s; what a hall still rings beyond is faded out. */
const longestS = 2.75

/** Lengths are whole multiples of this, samples: few lengths, and easily transformed. */
const lengthStep = 16384

/** Part of the response at its end over which it is faded out, and stretch over which it is let in: nothing has arrived by then, s. */
const fadedPart = 0.1
const letInS = 0.0055

/**
 * The impulse responses that the sound is rendered with, 0 dB = the passband of the direct sound in front. Each is mixed as the levels are
 * (hallLevels), with a = the share of the statistics:
 *
 *   √(1 − a) · all images with all resonances + (1 − √(1 − a)) · direct sound and early images + √a · reverberant tail
 *
 * Direct and early sound are in the first two and add to one; late images and tail have nothing to do with each other and add by energy.
 * In the end every third octave is brought to the level that hallAnswer gives it, by a filter of least phase. Above 100 Hz that is a decibel
 * or two: at one place direct sound, early images and tail add more or less in step, which the levels leave out. Below, it also makes
 * up for what a hard hall rings on beyond the longest response.
 *
 * @returns here and front: for 'outdoors' and 'halls', the listener's place here and there
 * @throws RangeError as hallAnswer, or for a sample rate out of range
 */
export function hallResponses(question: HallResponseQuestion): HallResponses {
  const { rig, hall, compare, other } = question
  const sampleRateHz = requireInRange('sampleRateHz', question.sampleRateHz, { min: 8000, max: 192000, unit: 'Hz' })
  const place = requireHallPlace(rig, hall, question.place)
  const frontPlace = question.front ?? { xM: 0, zM: hallFrontM(Math.hypot(place.xM, place.zM), hall) }
  const air = airOf(question.air)
  const standing = hallRig(rig, hall, air)
  const gain = amplitudeRatio(-passbandDb(directLevelsDb(standing.free, frontPlace)))
  const here = hallResponse(standing, place, gain, sampleRateHz, 1)
  const reDbA = (levels: Float64Array) =>
    weightedLevelDb(levels, heardBands, aWeightingDb) - aWeightedAtReferenceDb(standing.free)
  if (compare === 'outdoors') {
    const front = outdoorResponse(standing, place, gain, sampleRateHz)
    return { here, front, frontReDbA: reDbA(directLevelsDb(standing.free, place)) }
  }
  if (compare === 'places') {
    const front = hallResponse(standing, frontPlace, gain, sampleRateHz, 2)
    return { here, front, frontReDbA: reDbA(hallLevelsAt(standing, frontPlace).total) }
  }
  if (!other) throw new RangeError('other is missing; allowed is the hall to compare with')
  const elsewhere = requireHallPlace(rig, other, place)
  const there = hallRig(rig, other, air)
  const front = hallResponse(there, elsewhere, gain, sampleRateHz, 1)
  return { here, front, frontReDbA: reDbA(hallLevelsAt(there, elsewhere).total) }
}

function hallResponse(rig: HallRig, place: PlanPoint, gain: number, sampleRateHz: number, seed: number): Float32Array {
  const wantedDb = hallLevelsAt(rig, place).total.map((level) => level + 20 * Math.log10(gain))
  return levelled(uncorrectedResponse(rig, place, gain, sampleRateHz, seed), wantedDb, sampleRateHz)
}

/** A response as its parts add up, before its third octaves are brought to the predicted levels. */
export function uncorrectedResponse(
  rig: HallRig,
  place: PlanPoint,
  gain: number,
  sampleRateHz: number,
  seed: number,
): Float32Array {
  return mixedResponse(rig, place, gain, {
    sampleRateHz,
    seed,
    directM: directDistanceM(rig, place),
    early: earlyResponse(rig, place, gain, sampleRateHz),
  })
}

/**
 * All images with all resonances, early sound and reverberant tail of a rig in a hall, put together.
 *
 * @param directM  what the first sound travels, m
 * @param early    direct sound and early images, from `runUp` samples before the response on
 */
export function mixedResponse(
  rig: HallRig,
  place: PlanPoint,
  gain: number,
  { sampleRateHz, seed, directM, early }: MixedParts,
): Float32Array {
  const tail = tailOf(rig, sampleRateHz, seed)
  const { length } = tail
  const low = lowResponse(rig, place, gain, { sampleRateHz, length, leadS: leadInS, directM })
  const letIn = Math.floor(letInS * sampleRateHz)
  const faded = Math.floor(fadedPart * length)
  return Float32Array.from(tail, (late, i) => {
    const sum = gain * late + (low[i] as number) + (early[i + runUp] ?? 0)
    const open = Math.min(1, i / letIn, (length - 1 - i) / faded)
    return sum * Math.sin((Math.PI / 2) * open) ** 4
  })
}

type MixedParts = { sampleRateHz: number; seed: number; directM: number; early: Float64Array }

/** The tail is the same at every place of a hall. */
const tails = new WeakMap<HallRig, Map<string, Float32Array>>()

function tailOf(rig: HallRig, sampleRateHz: number, seed: number): Float32Array {
  const key = `${sampleRateHz} ${seed}`
  const known = tails.get(rig) ?? new Map<string, Float32Array>()
  tails.set(rig, known)
  let tail = known.get(key)
  if (!tail) {
    const { hall, air, levels } = rig
    const joinHz = heardJoinHz(levels)
    const bands = heardBands
      .filter(({ upperHz }) => upperHz > joinHz / Math.SQRT2 && upperHz <= sampleRateHz / 2)
      .map((band) => ({
        band,
        decayTimeS: decayTimeS(hall, band.centreHz, air),
        meanSquare: levels.lateMeanSquare(band.centreHz) * statisticalShare(band.centreHz, joinHz),
      }))
    const wantedS = 1.1 * Math.max(...bands.map((each) => each.decayTimeS))
    const steps = (durationS: number) => (durationS * sampleRateHz) / lengthStep
    const length = lengthStep * Math.max(1, Math.min(Math.floor(steps(longestS)), Math.ceil(steps(wantedS))))
    tail = reverberantTail(bands, { sampleRateHz, length, startS: leadInS, speedOfSoundMps: air.speedOfSoundMps, seed })
    known.set(key, tail)
  }
  return tail
}
