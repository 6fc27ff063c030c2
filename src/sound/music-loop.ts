import { pinkNoise } from '../acoustics/signals/pink-noise.ts'
import { signalRms } from './audition-types.ts'
import type { MusicNote } from './music-score.ts'
import { loopBeats, musicScore, tempoBpm } from './music-score.ts'
import { scaleToRms } from './scale-to-rms.ts'
import type { OfflineContext, ToneAudioBuffer } from './tone-nodes.ts'
import { BiquadFilter, Gain, monoBuffer, renderOffline, ToneBufferSource, ToneOscillatorNode } from './tone-nodes.ts'

/** Samples in a render quantum; the loop and the bar before it are whole quanta, so that both meet the same rounding. */
const quantumSamples = 128

/** Share of the loop that is played once before it: its last bar, longer than any note rings on. */
const leadInShare = 1 / 4

/** Time constants after which an exponential decay is cut: −70 dB. */
const decaysKept = 8

/**
 * The music loop: kick, snare, hats, bass and chords, synthesised here. The last bar is played once before the loop and
 * cut off again, so that what rings on from the loop's end is already there at its beginning.
 *
 * @param sampleRateHz  any that the browser renders at
 * @returns  eight seconds of samples to the nearest 512, root mean square 0.1
 */
export async function renderMusicLoop(sampleRateHz: number): Promise<Float32Array> {
  const loopS = loopBeats * (60 / tempoBpm)
  const leadIn = Math.round((loopS * leadInShare * sampleRateHz) / quantumSamples) * quantumSamples
  const length = leadIn / leadInShare
  const rendered = await renderOffline({ sampleRateHz, length: leadIn + length }, (context) => {
    const band = createBand(context, sampleRateHz)
    for (const note of musicScore()) {
      const sample = Math.round((note.beat / loopBeats) * length)
      if (sample >= length - leadIn) band.play(note, (sample - (length - leadIn)) / sampleRateHz)
      band.play(note, (leadIn + sample) / sampleRateHz)
    }
  })
  return scaleToRms(rendered.slice(leadIn), signalRms)
}

/** The voices, each through its own filter; `play` schedules one note. */
function createBand(context: OfflineContext, sampleRateHz: number): { play(note: MusicNote, startS: number): void } {
  const secondsOfBeats = (beats: number): number => (beats * 60) / tempoBpm
  const filtered = (type: BiquadFilterType, frequencyHz: number, q: number, gain: number): BiquadFilter => {
    const filter = new BiquadFilter({ context, type, frequency: frequencyHz, Q: q })
    const level = new Gain({ context, gain })
    filter.connect(level)
    level.connect(context.rawContext.destination)
    return filter
  }
  const kickOut = filtered('lowpass', 6000, 0.7, 0.6)
  const snareOut = filtered('bandpass', 2200, 0.4, 5)
  const hatOut = filtered('highpass', 6500, 0.7, 5)
  const bassOut = filtered('lowpass', 600, 0.9, 0.35)
  const chordOut = filtered('lowpass', 9000, 0.7, 0.1)
  const noise = monoBuffer(context, pinkNoise({ sampleRateHz, durationS: 1, seed: 7 }))

  /** A gain that rises in a straight line, then decays with a time constant from `holdS` on. */
  const envelope = (shape: { startS: number; attackS: number; holdS: number; decayS: number; level: number }): Gain => {
    const { startS, attackS, holdS, decayS, level } = shape
    const gain = new Gain({ context, gain: 0 })
    gain.gain.setValueAtTime(0, startS)
    gain.gain.linearRampToValueAtTime(level, startS + attackS)
    gain.gain.setTargetAtTime(0, startS + attackS + holdS, decayS)
    return gain
  }

  const tone = (
    type: 'sine' | 'triangle' | 'sawtooth',
    output: BiquadFilter,
    frequencyHz: number,
    shape: { startS: number; attackS: number; holdS: number; decayS: number; level: number },
  ): ToneOscillatorNode => {
    const oscillator = new ToneOscillatorNode({ context, type, frequency: frequencyHz })
    oscillator.connect(envelope(shape).connect(output))
    oscillator.start(shape.startS)
    oscillator.stop(shape.startS + shape.attackS + shape.holdS + decaysKept * shape.decayS)
    return oscillator
  }

  const burst = (
    buffer: ToneAudioBuffer,
    output: BiquadFilter,
    startS: number,
    decayS: number,
    level: number,
  ): void => {
    const source = new ToneBufferSource({ context, url: buffer, loop: true })
    source.connect(envelope({ startS, attackS: 0.001, holdS: 0, decayS, level }).connect(output))
    source.start(startS, 0)
    source.stop(startS + 0.001 + decaysKept * decayS)
  }

  return {
    play(note, startS) {
      const level = note.level
      switch (note.voice) {
        case 'kick': {
          // The falling pitch is the beater's thump; the body stays near 50 Hz.
          const body = tone('sine', kickOut, 160, { startS, attackS: 0.002, holdS: 0.05, decayS: 0.09, level })
          body.frequency.setValueAtTime(160, startS)
          body.frequency.exponentialRampToValueAtTime(50, startS + 0.06)
          burst(noise, kickOut, startS, 0.004, level)
          break
        }
        case 'snare':
          burst(noise, snareOut, startS, 0.07, level)
          tone('triangle', snareOut, 190, { startS, attackS: 0.001, holdS: 0.01, decayS: 0.05, level: 0.3 * level })
          break
        case 'closed-hat':
          burst(noise, hatOut, startS, 0.025, level)
          break
        case 'open-hat':
          burst(noise, hatOut, startS, 0.08, level)
          break
        case 'bass': {
          const holdS = secondsOfBeats(note.beats)
          tone('sawtooth', bassOut, note.frequencyHz, { startS, attackS: 0.005, holdS, decayS: 0.03, level })
          break
        }
        case 'chord': {
          const holdS = secondsOfBeats(note.beats)
          const shape = { startS, attackS: 0.005, holdS, decayS: 0.08, level }
          // Two saws 8 cents apart beat slowly, which keeps the chord from sounding like an organ stop.
          tone('sawtooth', chordOut, note.frequencyHz * 2 ** (-4 / 1200), shape)
          tone('sawtooth', chordOut, note.frequencyHz * 2 ** (4 / 1200), shape)
          break
        }
      }
    },
  }
}
