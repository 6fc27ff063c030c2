import {
  impulseLevelsDb,
  type MicrophoneOffsets,
  meterLevelsDb,
  microphoneOffsetDb,
  pinkNoise,
  practiceMicrophone,
  type Rig,
  recordedThrough,
  seededRandom,
  speechLike,
  sweepSignal,
  usualSweep,
} from '../../../acoustics/index.ts'
import { requireInRange } from '../../../acoustics/numeric-range.ts'
import { airOf, type InAir } from '../../scene/air.ts'
import { passbandDb } from '../../scene/free-field.ts'
import { uncorrectedResponse } from '../../scene/hall-responses.ts'
import { directLevelsDb, hallRig } from '../../scene/hall-rig.ts'
import { placeResponses } from '../../scene/place-responses.ts'
import { rigDepthM } from '../../scene/rig-outline.ts'
import { earHeightM } from '../../scene/scene-terms.ts'
import { standingRig } from '../../scene/standing-rig.ts'
import type { Surroundings } from '../../scene/surroundings.ts'
import { heardBands } from '../../scene/third-octaves.ts'
import {
  farFrontM,
  type PracticeName,
  type PracticeSignal,
  type PracticeTake,
  type PracticeTruth,
  practiceDistanceM,
  practiceNames,
  practiceWallM,
} from './practice-terms.ts'

/** Where the practice takes place. */
export type PracticeScene = InAir & {
  rig: Rig
  /** In free air unless given. The take with a wall behind the microphone brings its own. */
  surroundings?: Surroundings
  /** Noise unless given. */
  signal?: PracticeSignal
}

const sampleRateHz = 48000
/** Length of the noise, one period: 21.8 s. */
const noiseLength = 2 ** 20
/** Length of responses in the open. */
const openLength = 16384
/** What is played, re the full scale of its own kind: room for the bass of a hall, and for a box close by. */
const playedGain = 0.5
/** The background lies so far under the sound in front, dB, and up to so much nearer by the seed. */
const backgroundDb = { usual: -45, spread: 3 }
/** When somebody talks behind the box, s, and the level of it there and in front, dB re the sound of the rig in front. */
const talkingS = [
  { fromS: 6, toS: 9.5 },
  { fromS: 14, toS: 16 },
]
const talkingDb = { behind: 3, front: -12 }
/** The meter is read this long after it came to the place behind, samples: 2.7 s. */
const meterLength = 2 ** 17
export const meterReadS = meterLength / sampleRateHz
/** How the microphone that was put in after the match differs from the one that was matched, at least, dB. */
const swappedMicrophone = [
  { frequencyHz: 50, offsetDb: 4.5 },
  { frequencyHz: 250, offsetDb: 1.5 },
  { frequencyHz: 1000, offsetDb: 0 },
  { frequencyHz: 4000, offsetDb: -1 },
  { frequencyHz: 12500, offsetDb: -3.5 },
]

/**
 * One recording of the practice set: a rig of the model, in front and behind, through two microphones that do not match, with background; and
 * the truth beside it. The same for the same name, seed and scene. Made when it is asked for, never kept.
 *
 * @param name   a step of the test done well, or one of the six takes that fool
 * @param seed   whole number, 0 … 2³¹ − 1
 * @throws RangeError for arguments out of range, or as placeResponses and hallRig
 */
export function practiceTake(name: PracticeName, seed: number, scene: PracticeScene): PracticeTake {
  if (!practiceNames.includes(name)) {
    throw new RangeError(`name is ${name}; allowed is ${practiceNames.join(', ')}`)
  }
  requireInRange('seed', seed, { integer: true, min: 0, max: 2 ** 31 - 1 })
  const plan = planOf(name, seed, scene)
  const { microphones, volumeChangeDb, truth } = plan
  const played = playedSignal(scene.signal ?? 'noise', seed, truth.driftPpm)
  const volume = 10 ** (volumeChangeDb / 20)
  const sound = (response: Float32Array, microphone: MicrophoneOffsets, gain: number) =>
    name === 'quiet'
      ? new Float32Array(played.length)
      : recordedThrough(played, response, microphone, sampleRateHz).map((sample) => gain * sample)
  const front = sound(plan.responses.front, microphones.front, 1)
  const behind = sound(plan.responses.here, microphones.behind, volume)
  const loudness = loudnessInFront(played, plan.fair.front, JSON.stringify([seed, scene, truth.driftPpm]))
  addBackground(front, loudness, truth, seed + 101)
  addBackground(behind, loudness, truth, seed + 202)
  if (name === 'talking') {
    addTalking(front, loudness * 10 ** (talkingDb.front / 20))
    addTalking(behind, loudness * 10 ** (talkingDb.behind / 20))
  }
  const take = { sampleRateHz, front, behind, truth }
  return name === 'meter-smoothing' ? { ...take, meterDb: meterOf(front, behind) } : take
}

type Responses = { here: Float32Array; front: Float32Array }
type Plan = {
  responses: Responses
  fair: Responses
  microphones: PracticeTruth['microphones']
  volumeChangeDb: number
  truth: PracticeTruth
}

/** What is set up for a take, and what is true of it. */
function planOf(name: PracticeName, seed: number, scene: PracticeScene): Plan {
  const random = seededRandom(seed)
  const fair = responsesAt(scene, practiceDistanceM)
  const distanceM = { front: name === 'unequal-distances' ? farFrontM : practiceDistanceM, behind: practiceDistanceM }
  let responses = fair
  if (name === 'unequal-distances') responses = responsesAt(scene, farFrontM)
  if (name === 'wall-behind-microphone') {
    const gapM = practiceDistanceM + practiceWallM - rigDepthM(scene.rig)
    responses = responsesAt({ ...scene, surroundings: { kind: 'wall', gapM } }, practiceDistanceM)
  }
  if (name === 'match') responses = { here: fair.front, front: fair.front }
  const microphones = { front: practiceMicrophone(seed + 1), behind: practiceMicrophone(seed + 2) }
  if (name === 'unmatched-microphones') {
    microphones.behind = microphones.behind.map(({ frequencyHz, offsetDb }, i) => ({
      frequencyHz,
      offsetDb: offsetDb + (swappedMicrophone[i]?.offsetDb ?? 0),
    }))
  }
  const volumeChangeDb = name === 'volume-changed' ? 4 + 2 * random() : 0
  const background = backgroundDb.usual + backgroundDb.spread * random()
  const driftPpm = scene.signal === 'sweep' ? Math.round(120 * random() - 60) : 0
  const levels = (response: Float32Array) => [...impulseLevelsDb(response, sampleRateHz, heardBands)]
  const arrivingDb = { front: levels(responses.front), behind: levels(responses.here) }
  const inFairFrontDb = levels(fair.front)
  const truth: PracticeTruth = {
    name,
    seed,
    signal: scene.signal ?? 'noise',
    arrivingDb,
    fairDb: levels(fair.here).map((level, i) => level - (inFairFrontDb[i] as number)),
    recordedDb: heardBands.map(
      ({ centreHz }, i) =>
        (arrivingDb.behind[i] as number) -
        (arrivingDb.front[i] as number) +
        microphoneOffsetDb(microphones.behind, centreHz) -
        microphoneOffsetDb(microphones.front, centreHz) +
        volumeChangeDb,
    ),
    microphones,
    distanceM,
    extraPathM: name === 'wall-behind-microphone' ? 2 * practiceWallM : null,
    talking: name === 'talking' ? talkingS : [],
    volumeChangeDb,
    backgroundDb: background,
    driftPpm,
  }
  return { responses, fair, microphones, volumeChangeDb, truth }
}

/** Impulse responses behind at practiceDistanceM and in front at a distance, re the front's passband in free air at practiceDistanceM. */
function responsesAt({ rig, surroundings = { kind: 'outdoors' }, air }: PracticeScene, frontM: number): Responses {
  const at = (zM: number) => ({ xM: 0, yM: earHeightM, zM })
  const [here, front, zero] = [at(-practiceDistanceM), at(frontM), at(practiceDistanceM)]
  if (surroundings.kind === 'hall') {
    const hall = hallRig(rig, surroundings.design, airOf(air))
    const gain = 10 ** (-passbandDb(directLevelsDb(hall.free, zero)) / 20)
    // Not brought to predicted levels: the direct sound stays what the box sends, so that a cut has a truth to find.
    return {
      here: uncorrectedResponse(hall, here, gain, sampleRateHz, 1),
      front: uncorrectedResponse(hall, front, gain, sampleRateHz, 2),
    }
  }
  const standing = standingRig(rig, surroundings, airOf(air))
  const made = placeResponses(standing, { here, front: zero }, { sampleRateHz, length: openLength })
  if (frontM === practiceDistanceM) return made
  const far = placeResponses(standing, { here: front, front: zero }, { sampleRateHz, length: openLength })
  return { here: made.here, front: far.here }
}

function playedSignal(signal: PracticeSignal, seed: number, driftPpm: number): Float32Array {
  if (signal === 'sweep') return sweepSignal(usualSweep, sampleRateHz, playedGain / 2, 1 + driftPpm * 1e-6)
  return pinkNoise({ sampleRateHz, durationS: noiseLength / sampleRateHz, seed }).map((sample) => playedGain * sample)
}

/** Of the tests that were made last, by what they hang on: all takes of one test have the same. */
const knownLoudness = new Map<string, number>()
const mostKnown = 16

/** Root mean square of what a perfect microphone hears in front in a fair test, re full scale. */
function loudnessInFront(played: Float32Array, response: Float32Array, key: string): number {
  let loudness = knownLoudness.get(key)
  if (loudness === undefined) {
    loudness = rootMeanSquare(recordedThrough(played, response, null, sampleRateHz))
    if (knownLoudness.size >= mostKnown) knownLoudness.clear()
    knownLoudness.set(key, loudness)
  }
  return loudness
}

function rootMeanSquare(samples: Float32Array): number {
  return Math.sqrt(samples.reduce((sum, sample) => sum + sample * sample, 0) / samples.length)
}

function addBackground(samples: Float32Array, loudness: number, truth: PracticeTruth, seed: number): void {
  const noise = pinkNoise({ sampleRateHz, durationS: noiseLength / sampleRateHz, seed })
  const gain = (loudness * 10 ** (truth.backgroundDb / 20)) / rootMeanSquare(noise)
  samples.forEach((sample, n) => {
    samples[n] = sample + gain * (noise[n % noise.length] as number)
  })
}

/** Speech without words, let in and out within a tenth of a second; its loudness over the whole loop is as given. */
function addTalking(samples: Float32Array, loudness: number): void {
  const speech = speechLike({ sampleRateHz })
  const gain = loudness / rootMeanSquare(speech)
  for (const { fromS, toS } of talkingS) {
    for (let n = Math.round(fromS * sampleRateHz); n < Math.min(samples.length, toS * sampleRateHz); n++) {
      const t = n / sampleRateHz
      const open = Math.min(1, (t - fromS) / 0.1, (toS - t) / 0.1)
      samples[n] = (samples[n] as number) + gain * open * (speech[n % speech.length] as number)
    }
  }
}

/** A meter with slow smoothing that stood in front, was carried behind and read too soon. */
function meterOf(front: Float32Array, behind: Float32Array): { front: number[]; behind: number[] } {
  const inFront = meterLevelsDb(front.subarray(0, meterLength), sampleRateHz, heardBands)
  const there = meterLevelsDb(behind.subarray(0, meterLength), sampleRateHz, heardBands, inFront)
  return { front: [...inFront], behind: [...there] }
}
