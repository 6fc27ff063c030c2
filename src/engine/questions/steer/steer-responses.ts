import {
  type Air,
  amplitudeRatio,
  type Complex,
  type CrossoverSlope,
  crossoverResponse,
  decayTimeS,
  divide,
  fromPolar,
  impulseResponse,
  multiply,
  type Point,
  realDft,
  type Way,
  wayResponse,
} from '../../../acoustics/index.ts'
import { requireInRange } from '../../../acoustics/numeric-range.ts'
import { inverseRealDft } from '../../../acoustics/signals/dft.ts'
import { hallOf } from '../../scene/hall-scene.ts'
import { leadInS, type Responses } from '../../scene/responses.ts'
import { boxOf, boxPlaces, faultySheet, stackPlaces, standing } from './steer-boxes.ts'
import { type PlayedBox, playedField } from './steer-field.ts'
import { requireSteerable, type SteerStage, stageOf } from './steer-stage.ts'
import { listeningRow, type SheetLine, type SteerCompare, type SteerQuestion, steerCompares } from './steer-terms.ts'
import { type BodyResponses, bodyResponses, type SpotResponses, type SteerTogetherSolved } from './together-lines.ts'

export type SteerResponseQuestion = SteerQuestion & {
  compare: SteerCompare
  /** Answers of steerTogetherStep to all of the plan of this question, with its error's wall; without them each box radiates as alone. */
  steps?: readonly SteerTogetherSolved[] | undefined
  /** 8000 … 192 000 Hz. */
  sampleRateHz: number
  /** Samples, 1024 … 2²⁰; in a hall a response is as long as its ringing needs. */
  length: number
}

/** Only bass is rendered: steeply less above this. */
const bassLimit: CrossoverSlope = { alignment: 'linkwitz-riley', order: 8, frequencyHz: 160 }

/**
 * Room before the first sound while a response is made, s: without its way's crossover, which comes last, the soft edges of the
 * band ring to both sides.
 */
const runUpS = 0.15

/** Nothing is rendered outside, Hz; the edges are soft. */
const edgesHz = { silentTo: 10, fullFrom: 20, fullTo: 180, silentFrom: 225 } as const

/** In a hall responses are as long as it decays at this frequency, but no longer than the next, s. */
const ringingHz = 63
const longestRingS = 1.36
/** How far what rings longer than the response is pressed down before it comes round again, dB. */
const dampedDb = 30

/** Part of a response at its end over which it is faded out. */
const fadedPart = 0.1

/**
 * The impulse responses that the sound is rendered with: the boxes with their rig's own lowest way, limited to bass, voiced flat
 * as the stack outdoors in the middle of the front row. Each begins 6 ms before its first sound.
 *
 *   behind  here the set at the table, front the stack there
 *   front   the same in front
 *   places  here the set at the table, front the set in front
 *
 * A hall rings longer than lines at whole multiples of 1/T can tell: the rest comes round again. So every path of length r is
 * damped by e^{−σr/c}, and the response multiplied by e^{σt}: what comes round again is then e^{−σT} of what it would be.
 *
 * @throws RangeError as steerAnswer, for steps that are not the plan's, or for a sample rate or a length out of range
 */
export function steerResponses(question: SteerResponseQuestion): Responses {
  requireSteerable(question)
  const { set, error, compare } = question
  if (!steerCompares.includes(compare)) {
    throw new RangeError(`compare is ${String(compare)}; allowed is ${steerCompares.join(', ')}`)
  }
  const sampleRateHz = requireInRange('sampleRateHz', question.sampleRateHz, { min: 8000, max: 192000, unit: 'Hz' })
  const asked = requireInRange('length', question.length, { min: 1024, max: 2 ** 20, integer: true })
  const stage = stageOf(question, error)
  const sheet = faultySheet(boxPlaces(set, stage.size), set, error)
  const played = standing(sheet, stage.size).map((box, i): PlayedBox => ({ ...box, ...playedOf(sheet[i]) }))
  const stacked = stackPlaces(set.count, stage.size).map((box): PlayedBox => ({ ...box, ...playedOf() }))
  const lengths = lengthsOf(stage, asked, sampleRateHz)
  const spec: ResponseSpec = {
    stage,
    way: boxOf(question.rig).way,
    sampleRateHz,
    ...lengths,
    boxes: { set: played, stack: stacked },
    spectraOf: question.steps ? bodySpectra(stage, question.steps, played) : aloneSpectra(stage, played, stacked),
  }
  const behind = compare !== 'front'
  return {
    here: response(spec, 'set', behind ? 'behind' : 'front'),
    front: compare === 'places' ? response(spec, 'set', 'front') : response(spec, 'stack', behind ? 'behind' : 'front'),
  }
}

const playedOf = (line?: SheetLine): Pick<PlayedBox, 'gain' | 'delayS'> => ({
  gain: line ? line.polarity * amplitudeRatio(line.levelDb) : 1,
  delayS: line?.delayS ?? 0,
})

/**
 * Samples of a response: what is transformed, and what is kept of it. Outdoors there is room for the run-up; a hall's lines are
 * costly, so that the run-up takes its part of what a hall needs to ring out.
 */
function lengthsOf({ scene }: SteerStage, asked: number, sampleRateHz: number): { length: number; kept: number } {
  const runUp = Math.round(runUpS * sampleRateHz)
  if (scene.surroundings.kind !== 'hall') return { length: 2 ** Math.ceil(Math.log2(asked + runUp)), kept: asked }
  const decayS = decayTimeS(hallOf(scene.surroundings.design), ringingHz, scene.air)
  const length = Math.max(asked, 2 ** Math.round(Math.log2(Math.min(longestRingS, decayS + runUpS) * sampleRateHz)))
  return { length, kept: length - runUp }
}

/** Who plays, and where it is heard: the middle of a place. */
type Playing = 'set' | 'stack'
type Heard = 'front' | 'behind'

/**
 * Complex pressure by frequency, Pa, as the boxes play, and of the stack in front outdoors, which is voiced flat.
 *
 * @param dampingPerS  in a hall a further loss of all that arrives
 */
type Spectra = (who: Playing, where: Heard, frequenciesHz: readonly number[], dampingPerS: number) => Spectrum
type Spectrum = { arrival: Complex[]; voicing: Complex[] }

const middleOf = (spots: Point[]): Point => spots[middleSpot] as Point
const middleSpot = (listeningRow.spots - 1) / 2

const aloneSpectra =
  (stage: SteerStage, played: PlayedBox[], stacked: PlayedBox[]): Spectra =>
  (who, where, frequenciesHz, dampingPerS) => {
    const { scene, outdoors } = stage
    const boxes = who === 'set' ? played : stacked
    const damped = boxes.map((box) => ({ ...box, gain: box.gain * Math.exp(-dampingPerS * box.delayS) }))
    const dampingPerM = dampingPerS / scene.air.speedOfSoundMps
    return {
      arrival: frequenciesHz.map((hz) => playedField(scene, damped, hz, dampingPerM)(middleOf(stage[where]))),
      voicing: frequenciesHz.map((hz) => playedField(outdoors, stacked, hz)(middleOf(stage.front))),
    }
  }

/** As one body: outdoors alone, so that nothing is damped. */
function bodySpectra(stage: SteerStage, steps: readonly SteerTogetherSolved[], played: PlayedBox[]): Spectra {
  const bodies = new Map<string, BodyResponses>()
  return (who, where, frequenciesHz) => {
    const key = frequenciesHz.join()
    const found = bodies.get(key) ?? bodyResponses(stage, steps, frequenciesHz)
    bodies.set(key, found)
    const at = ({ re, im }: SpotResponses, line: number): Complex => {
      const index = line * listeningRow.spots + middleSpot
      return { re: re[index] as number, im: im[index] as number }
    }
    const stack = where === 'front' ? found.stackedFront : found.stackedBehind
    return {
      arrival: frequenciesHz.map((hz, line) =>
        who === 'stack'
          ? at(stack, line)
          : found[where].reduce(
              (sum, part, box) => {
                const { gain, delayS } = played[box] as PlayedBox
                const { re, im } = multiply(at(part, line), fromPolar(gain, -2 * Math.PI * hz * delayS))
                return { re: sum.re + re, im: sum.im + im }
              },
              { re: 0, im: 0 },
            ),
      ),
      voicing: frequenciesHz.map((_, line) => at(found.reference, line)),
    }
  }
}

type ResponseSpec = {
  stage: SteerStage
  way: Way
  sampleRateHz: number
  length: number
  kept: number
  boxes: Record<Playing, PlayedBox[]>
  spectraOf: Spectra
}

/** When the first sound of boxes arrives at a place, s. */
const firstArrivalS = (boxes: readonly PlayedBox[], place: Point, air: Air): number =>
  Math.min(
    ...boxes.map(
      ({ xM, yM, zM, delayS }) =>
        delayS + Math.hypot(place.xM - xM, place.yM - yM, place.zM - zM) / air.speedOfSoundMps,
    ),
  )

function response(spec: ResponseSpec, who: Playing, where: Heard): Float32Array {
  const { stage, way, sampleRateHz, length, kept, boxes, spectraOf } = spec
  const inHall = stage.scene.surroundings.kind === 'hall'
  const dampingPerS = inHall ? (Math.LN10 * dampedDb * sampleRateHz) / (20 * length) : 0
  const { air } = stage.scene
  const voicedAheadS = firstArrivalS(boxes.stack, middleOf(stage.front), air)
  const stepHz = sampleRateHz / length
  const first = Math.ceil(edgesHz.silentTo / stepHz)
  const frequenciesHz: number[] = []
  for (let bin = first; bin * stepHz < edgesHz.silentFrom; bin++) frequenciesHz.push(bin * stepHz)
  const { arrival, voicing } = spectraOf(who, where, frequenciesHz, dampingPerS)
  const aheadS = firstArrivalS(boxes[who], middleOf(stage[where]), air) - leadInS - runUpS
  const samples = impulseResponse(
    (frequencyHz) => {
      const line = Math.round(frequencyHz / stepHz) - first
      const here = arrival[line]
      if (!here) return { re: 0, im: 0 }
      const flat = multiply(voicing[line] as Complex, fromPolar(1, 2 * Math.PI * frequencyHz * voicedAheadS))
      return multiply(divide(here, flat), fromPolar(edgeAt(frequencyHz), 2 * Math.PI * frequencyHz * aheadS))
    },
    { sampleRateHz, length },
  )
  undamp(samples, dampingPerS, aheadS, sampleRateHz)
  const runUp = Math.round(runUpS * sampleRateHz)
  return fadedOut(played(samples, way, sampleRateHz).slice(runUp, runUp + kept))
}

/** 0 outside the rendered frequencies, 1 within. */
function edgeAt(frequencyHz: number): number {
  const { silentTo, fullFrom, fullTo, silentFrom } = edgesHz
  const x = Math.min(
    (frequencyHz - silentTo) / (fullFrom - silentTo),
    (silentFrom - frequencyHz) / (silentFrom - fullTo),
  )
  return Math.sin((Math.PI / 2) * Math.max(0, Math.min(1, x))) ** 2
}

/** Takes the damping back, and fades the end out. */
function undamp(samples: Float32Array, dampingPerS: number, aheadS: number, sampleRateHz: number): void {
  for (const [i, sample] of samples.entries()) samples[i] = sample * Math.exp(dampingPerS * (i / sampleRateHz + aheadS))
  fadedOut(samples)
}

/** Fades the end of a response out, in place. */
function fadedOut(samples: Float32Array): Float32Array {
  const { length } = samples
  const from = Math.floor((1 - fadedPart) * length)
  for (let i = from; i < length; i++) {
    samples[i] = (samples[i] as number) * Math.cos((Math.PI / 2) * ((i - from) / (length - from))) ** 2
  }
  return samples
}

/** A response through the way's crossover and the limit of bass. */
function played(samples: Float32Array, way: Way, sampleRateHz: number): Float32Array {
  const spectrum = realDft(samples)
  for (let bin = 0; bin < spectrum.re.length; bin++) {
    const frequencyHz = (bin * sampleRateHz) / samples.length
    const value = { re: spectrum.re[bin] as number, im: spectrum.im[bin] as number }
    const { re, im } = multiply(value, steerWayResponse(way, frequencyHz))
    spectrum.re[bin] = re
    spectrum.im[bin] = im
  }
  return Float32Array.from(inverseRealDft(spectrum, samples.length))
}

/** What a box plays of its input: its way's crossover, limited to bass. */
export const steerWayResponse = (way: Way, frequencyHz: number) =>
  multiply(wayResponse(way, frequencyHz), crossoverResponse(bassLimit, 'low-pass', frequencyHz))
