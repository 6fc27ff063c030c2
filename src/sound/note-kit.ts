import { pinkNoise } from '../acoustics/signals/pink-noise.ts'
import type { Context } from './tone-nodes.ts'
import { BiquadFilter, Gain, monoBuffer, ToneBufferSource, ToneOscillatorNode } from './tone-nodes.ts'

/** Time constants after which an exponential decay is cut: −70 dB. */
const decaysKept = 8

/** How a note swells and dies away: times in s, linear level. */
export type Envelope = { startS: number; attackS: number; holdS: number; decayS: number; level: number }

/** What notes are made of; each part is given back once its note has fallen silent. */
export type NoteKit = {
  /** When a note has died away, s. */
  endOf(shape: Envelope): number
  /** A gain that rises in a straight line, then decays with a time constant from `holdS` on. */
  envelope(shape: Envelope): Gain
  /** A wave without an envelope of its own. */
  oscillate(
    type: 'sine' | 'triangle' | 'sawtooth',
    output: BiquadFilter | Gain,
    frequencyHz: number,
    shape: Envelope,
  ): ToneOscillatorNode
  tone(...played: Parameters<NoteKit['oscillate']>): ToneOscillatorNode
  /** Each stroke takes another piece of the noise by its beat, or all would sound stamped from one die. */
  burst(output: BiquadFilter | Gain, beat: number, shape: Envelope): void
  /** A low-pass that opens with the stroke and closes after it. */
  opening(filter: Record<'startS' | 'endS' | 'openHz' | 'restHz' | 'closeS', number>, target: Gain): BiquadFilter
  /** Gives back what has fallen silent before a time. */
  forgetBefore(timeS: number): void
}

/** A filter that plays into a target. */
export function through(
  context: Context,
  filter: { type: BiquadFilterType; frequencyHz: number; q: number },
  target: Gain | BiquadFilter,
): BiquadFilter {
  const made = new BiquadFilter({ context, type: filter.type, frequency: filter.frequencyHz, Q: filter.q })
  made.connect(target)
  return made
}

export function createNoteKit(context: Context, sampleRateHz: number): NoteKit {
  const noise = monoBuffer(context, pinkNoise({ sampleRateHz, durationS: 2, seed: 7 }))
  let sounding: { endS: number; node: { dispose(): unknown } }[] = []
  const until = <T extends { dispose(): unknown }>(endS: number, node: T): T => {
    sounding.push({ endS, node })
    return node
  }
  const endOf = ({ startS, attackS, holdS, decayS }: Envelope): number => startS + attackS + holdS + decaysKept * decayS

  const envelope = (shape: Envelope): Gain => {
    const { startS, attackS, holdS, decayS, level } = shape
    const gain = until(endOf(shape), new Gain({ context, gain: 0 }))
    gain.gain.setValueAtTime(0, startS)
    gain.gain.linearRampToValueAtTime(level, startS + attackS)
    gain.gain.setTargetAtTime(0, startS + attackS + holdS, decayS)
    return gain
  }

  const oscillate: NoteKit['oscillate'] = (type, output, frequencyHz, shape) => {
    const oscillator = until(endOf(shape), new ToneOscillatorNode({ context, type, frequency: frequencyHz }))
    oscillator.connect(output)
    oscillator.start(shape.startS)
    oscillator.stop(endOf(shape))
    return oscillator
  }

  const tone: NoteKit['tone'] = (type, output, frequencyHz, shape) =>
    oscillate(type, envelope(shape).connect(output), frequencyHz, shape)

  const burst: NoteKit['burst'] = (output, beat, shape) => {
    const source = until(endOf(shape), new ToneBufferSource({ context, url: noise, loop: true }))
    source.connect(envelope(shape).connect(output))
    source.start(shape.startS, (beat * 0.271) % 1.5)
    source.stop(endOf(shape))
  }

  const opening: NoteKit['opening'] = ({ startS, endS, openHz, restHz, closeS }, target) => {
    const filter = until(endS, through(context, { type: 'lowpass', frequencyHz: openHz, q: 0.8 }, target))
    filter.frequency.setValueAtTime(openHz, startS)
    filter.frequency.setTargetAtTime(restHz, startS, closeS)
    return filter
  }

  return {
    endOf,
    envelope,
    oscillate,
    tone,
    burst,
    opening,
    forgetBefore(timeS) {
      for (const { endS, node } of sounding) if (endS < timeS) node.dispose()
      sounding = sounding.filter(({ endS }) => endS >= timeS)
    },
  }
}
