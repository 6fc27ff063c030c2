import { type MicrophoneOffsets, pinkNoise, placePoint, type Rig, recordedThrough } from '../../../acoustics/index.ts'
import type { InAir } from '../../scene/air.ts'
import { hallResponses } from '../../scene/hall-responses.ts'
import type { HallDesign } from '../../scene/hall-scene.ts'
import { earHeightM } from '../../scene/scene-terms.ts'
import { type PracticePlace, practicePlaces } from './phone-terms.ts'

const sampleRateHz = 48000
/** One period, 21.8 s. */
const noiseLength = 2 ** 20
/** Of the noise that is played, re full scale: in front it peaks near −6 dB. */
const playedGain = 0.5
/** What the room and the phone add, re the noise that is played: enough to drown the lowest bands that the phone hardly hears. */
const backgroundGain = 10 ** (-44 / 20)
/** An invented phone: deaf in the low bass, as its own cut makes it, and a little bright. */
const phoneMicrophone: MicrophoneOffsets = [
  { frequencyHz: 25, offsetDb: -30 },
  { frequencyHz: 50, offsetDb: -14 },
  { frequencyHz: 100, offsetDb: -4 },
  { frequencyHz: 200, offsetDb: 0 },
  { frequencyHz: 4000, offsetDb: 2 },
  { frequencyHz: 10000, offsetDb: 0 },
  { frequencyHz: 16000, offsetDb: -6 },
]

export type PhonePracticeQuestion = InAir & { rig: Rig; hall: HallDesign; at: PracticePlace }

/**
 * What an invented phone hears at a place of the practice: pink noise out of a rig in a hall, as the model has it, and a little background.
 * A whole period, which repeats without a seam; the same for the same question.
 *
 * @throws RangeError as hallResponses
 */
export function phonePractice({ rig, hall, at, air }: PhonePracticeQuestion): {
  sampleRateHz: number
  samples: Float32Array<ArrayBuffer>
} {
  const durationS = noiseLength / sampleRateHz
  const seeds = { quiet: 11, front: 12, beside: 13, tables: 14, farTables: 15 }
  const background = pinkNoise({ sampleRateHz, durationS, seed: seeds[at] })
  const samples = Float32Array.from(background, (sample) => backgroundGain * sample)
  if (at === 'quiet') return { sampleRateHz, samples }
  const point = (place: PracticePlace & keyof typeof practicePlaces) => {
    const { angleDeg, distanceM } = practicePlaces[place]
    return placePoint({ angleRad: (angleDeg * Math.PI) / 180, distanceM }, earHeightM)
  }
  const { here } = hallResponses({
    rig,
    hall,
    place: point(at),
    front: point('front'),
    compare: 'places',
    sampleRateHz,
    air,
  })
  const played = pinkNoise({ sampleRateHz, durationS, seed: 7 }).map((sample) => playedGain * sample)
  const heard = recordedThrough(played, here, phoneMicrophone, sampleRateHz)
  return { sampleRateHz, samples: samples.map((sample, n) => sample + (heard[n] as number)) }
}
