import { thirdOctaveBands } from '../bands/octave-bands.ts'
import { requireInRange } from '../numeric-range.ts'
import { seededRandom } from './seeded-random.ts'
import type { SpeechSegment } from './speech-score.ts'
import { speechLoopS, speechPhrases } from './speech-score.ts'
import { speechThirdOctaves } from './speech-spectrum.ts'
import { shapedToThirdOctaves } from './third-octave-shaping.ts'

/** Root mean square of the loop, −20 dB re full scale, as of the pink noise. */
const rootMeanSquare = 0.1

/** Spacing of the control values, s. */
const frameS = 0.001

/** Share of a period for which the vocal folds are open. */
const openShare = 0.6

/** Fourth and fifth resonance, which move little from sound to sound, and the widths of all five, Hz. */
const upperFormantsHz = [3500, 4500] as const
const formantWidthsHz = [70, 90, 130, 200, 260] as const

/**
 * A speech-like loop: pulses of a voice with a moving pitch and hiss, through five moving resonances, in syllables
 * about four to a second, with pauses for breath. No words, and no recording: made here from a score.
 *
 * The voice is a train of smooth openings 2τ − 3τ² (τ the share of the open phase that has passed) that shut abruptly,
 * through resonators in cascade, y_n = A x_n + B y_{n−1} + C y_{n−2}; the hiss is noise through a resonator of its own. A
 * filter at the end sets the long-term spectrum. The whole is one period: it begins and ends in a pause, and the filter
 * works round the loop, so the seam is no different from any other moment.
 *
 * @param spec  sampleRateHz 16 000 … 192 000; below 35.6 kHz the third octaves that reach above half of it are left out
 * @returns  8 s of samples, root mean square 0.1
 * @throws   RangeError if the sample rate is outside its range
 * Source:   long-term spectrum: Byrne et al. 1994; resonances of the vowels: Peterson & Barney 1952; cascade resonators:
 *           Klatt, J. Acoust. Soc. Am. 67 (1980) 971–995; the pulse: Rosenberg, J. Acoust. Soc. Am. 49 (1971) 583–590.
 * Accuracy: third octaves 63 Hz … 16 kHz within 0.1 dB of the published spectrum.
 */
export function speechLike(spec: { sampleRateHz: number }): Float32Array {
  const sampleRateHz = requireInRange('sampleRateHz', spec.sampleRateHz, { min: 16000, max: 192000, unit: 'Hz' })
  const spoken = speak(controlTracks(), sampleRateHz)
  const bands = thirdOctaveBands(speechThirdOctaves[0]?.nominalHz ?? 63, speechThirdOctaves.at(-1)?.nominalHz ?? 16000)
  const wanted = speechThirdOctaves.filter((_, i) => (bands[i]?.upperHz ?? 0) <= sampleRateHz / 2)
  const shaped = shapedToThirdOctaves(spoken, sampleRateHz, wanted)
  const present = Math.sqrt(shaped.reduce((sum, sample) => sum + sample * sample, 0) / shaped.length)
  return Float32Array.from(shaped, (sample) => sample * (rootMeanSquare / present))
}

/** Control values round the loop, one entry a frame. */
type ControlTracks = Record<
  'voice' | 'breath' | 'hiss' | 'hissHz' | 'hissWidthHz' | 'f1' | 'f2' | 'f3' | 'widening' | 'pitchHz',
  Float64Array
>

/** Writes the score down frame by frame and rounds its corners: levels in 14 ms, resonances in 60 ms, pitch in 120 ms. */
function controlTracks(): ControlTracks {
  const frames = Math.round(speechLoopS / frameS)
  const track = (): Float64Array => new Float64Array(frames)
  const tracks: ControlTracks = {
    voice: track(),
    breath: track(),
    hiss: track(),
    hissHz: track(),
    hissWidthHz: track(),
    f1: track(),
    f2: track(),
    f3: track(),
    widening: track(),
    pitchHz: track(),
  }
  const write = (frame: number, segment: SpeechSegment, pitchHz: number, sounding: boolean): void => {
    tracks.voice[frame] = sounding ? segment.voice : 0
    tracks.breath[frame] = sounding ? segment.breath : 0
    tracks.hiss[frame] = sounding ? segment.hiss : 0
    tracks.hissHz[frame] = segment.hissHz
    tracks.hissWidthHz[frame] = segment.hissWidthHz
    tracks.f1[frame] = segment.formantsHz[0]
    tracks.f2[frame] = segment.formantsHz[1]
    tracks.f3[frame] = segment.formantsHz[2]
    tracks.widening[frame] = segment.damped ? 2.5 : 1
    tracks.pitchHz[frame] = pitchHz
  }
  const phrases = speechPhrases()
  for (const [index, phrase] of phrases.entries()) {
    const { segments, startS, fromPitchHz, toPitchHz } = phrase
    const lengthS = segments.reduce((sum, { durationS }) => sum + durationS, 0)
    let passedS = 0
    for (const segment of segments) {
      const from = Math.round((startS + passedS) / frameS)
      passedS += segment.durationS
      const to = Math.round((startS + passedS) / frameS)
      for (let frame = from; frame < to; frame++) {
        const share = (frame * frameS - startS) / lengthS
        const pitchHz = fromPitchHz + (toPitchHz - fromPitchHz) * share + segment.accentHz
        // The last fifth of a phrase fades as the breath does.
        const breathLeft = Math.min(1, 0.55 + (0.45 * (1 - share)) / 0.2)
        write(frame, { ...segment, voice: segment.voice * breathLeft }, pitchHz, true)
      }
    }
    // In the pause the mouth stays as it was until half-way, then goes to where the next phrase begins.
    const next = phrases[(index + 1) % phrases.length]
    const last = segments.at(-1)
    const first = next?.segments[0]
    if (!next || !last || !first) continue
    const from = Math.round((startS + lengthS) / frameS)
    const to = Math.round((next.startS + (index + 1 === phrases.length ? speechLoopS : 0)) / frameS)
    for (let frame = from; frame < to; frame++) {
      const early = frame < (from + to) / 2
      write(frame % frames, early ? last : first, early ? toPitchHz : next.fromPitchHz, false)
    }
  }
  const rounded = (values: Float64Array, widthS: number): Float64Array => smoothedRound(values, widthS / frameS)
  return {
    voice: rounded(tracks.voice, 0.014),
    breath: rounded(tracks.breath, 0.014),
    hiss: rounded(tracks.hiss, 0.01),
    hissHz: rounded(tracks.hissHz, 0.014),
    hissWidthHz: rounded(tracks.hissWidthHz, 0.014),
    f1: rounded(tracks.f1, 0.05),
    f2: rounded(tracks.f2, 0.06),
    f3: rounded(tracks.f3, 0.06),
    widening: rounded(tracks.widening, 0.02),
    pitchHz: rounded(tracks.pitchHz, 0.12),
  }
}

/** Mean over a window of raised-cosine weight, round the loop. */
function smoothedRound(values: Float64Array, widthFrames: number): Float64Array {
  const half = Math.ceil(widthFrames)
  const weights = Array.from({ length: 2 * half + 1 }, (_, i) => 1 + Math.cos((Math.PI * (i - half)) / (half + 1)))
  const total = weights.reduce((sum, weight) => sum + weight, 0)
  const { length } = values
  return values.map((_, frame) =>
    weights.reduce(
      (sum, weight, i) => sum + (weight / total) * (values[(frame + i - half + length) % length] as number),
      0,
    ),
  )
}

/** A resonator whose frequency and width can be set between samples; its gain is 1 at 0 Hz. */
function createResonator(sampleRateHz: number): {
  tune(frequencyHz: number, widthHz: number): void
  next(x: number): number
} {
  let a = 1
  let b = 0
  let c = 0
  let before = 0
  let twoBefore = 0
  return {
    tune(frequencyHz, widthHz) {
      const radius = Math.exp((-Math.PI * widthHz) / sampleRateHz)
      c = -radius * radius
      b = 2 * radius * Math.cos((2 * Math.PI * frequencyHz) / sampleRateHz)
      a = 1 - b - c
    },
    next(x) {
      const y = a * x + b * before + c * twoBefore
      twoBefore = before
      before = y
      return y
    },
  }
}

/** The sound of the control values, before its long-term spectrum is set. */
function speak(tracks: ControlTracks, sampleRateHz: number): Float64Array {
  const random = seededRandom(11)
  const noise = (): number => 2 * random() - 1
  const samples = new Float64Array(Math.round(speechLoopS * sampleRateHz))
  const throat = formantWidthsHz.map(() => createResonator(sampleRateHz))
  const teeth = createResonator(sampleRateHz)
  const framesOf = (name: keyof ControlTracks, frame: number): number =>
    tracks[name][frame % tracks[name].length] as number

  let frame = -1
  let phase = 0
  let periodScale = 1
  let twoNoisesBefore = 0
  let noiseBefore = 0
  let teethScale = 0
  let pulseBefore = 0
  for (let n = 0; n < samples.length; n++) {
    const position = n / sampleRateHz / frameS
    if (Math.floor(position) !== frame) {
      frame = Math.floor(position)
      const widening = framesOf('widening', frame)
      const frequenciesHz = [framesOf('f1', frame), framesOf('f2', frame), framesOf('f3', frame), ...upperFormantsHz]
      for (const [i, resonator] of throat.entries()) {
        resonator.tune(frequenciesHz[i] as number, (formantWidthsHz[i] as number) * widening)
      }
      const hissWidthHz = framesOf('hissWidthHz', frame)
      teeth.tune(framesOf('hissHz', frame), hissWidthHz)
      // Band-passed noise has a power in proportion to the width; this takes most of that out again.
      teethScale = Math.sqrt(4000 / hissWidthHz)
    }
    const between = position - frame
    const at = (name: keyof ControlTracks): number =>
      framesOf(name, frame) * (1 - between) + framesOf(name, frame + 1) * between

    phase += (at('pitchHz') * periodScale) / sampleRateHz
    if (phase >= 1) {
      phase -= 1
      // A voice is never quite even: periods vary by a per cent.
      periodScale = 1 + 0.012 * noise()
    }
    const opened = phase / openShare
    const pulse = opened < 1 ? 2 * opened - 3 * opened * opened : 0
    const rushing = noise()
    // Breath rushes mostly while the folds are open; 3 % of it goes with the voice at all times.
    const breath = (at('breath') + 0.03 * at('voice')) * rushing * (opened < 1 ? 1 : 0.4)
    let throatSound = at('voice') * pulse + breath
    for (const resonator of throat) throatSound = resonator.next(throatSound)

    const hissing = noise()
    const teethSound = teeth.next((hissing - twoNoisesBefore) * at('hiss') * teethScale)
    twoNoisesBefore = noiseBefore
    noiseBefore = hissing
    // Above the fifth resonance the cascade lets next to nothing through; a real throat does let a little.
    const edge = at('voice') * (pulse - pulseBefore)
    pulseBefore = pulse
    samples[n] = throatSound + 0.13 * teethSound + 0.06 * edge
  }
  return samples
}
