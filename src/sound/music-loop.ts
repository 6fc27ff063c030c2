import { pinkNoise } from '../acoustics/signals/pink-noise.ts'
import { seededRandom } from '../acoustics/signals/seeded-random.ts'
import { signalRms } from './audition-types.ts'
import type { MusicNote } from './music-score.ts'
import { loopBars, loopBeats, musicScore, tempoBpm } from './music-score.ts'
import { scaleToRms } from './scale-to-rms.ts'
import type { Context } from './tone-nodes.ts'
import {
  BiquadFilter,
  Convolver,
  Gain,
  monoBuffer,
  renderOffline,
  ToneBufferSource,
  ToneOscillatorNode,
} from './tone-nodes.ts'

/** Samples in a render quantum; the loop and the bar before it are whole quanta, so that both meet the same rounding. */
const quantumSamples = 128

/** Time constants after which an exponential decay is cut: −70 dB. */
const decaysKept = 8

/** How long the room behind chords, plucks and claps rings on to −60 dB, s. */
const roomS = 0.9

/**
 * The music loop: kick, clap, hats, shaker, bass, chords and plucks, synthesised here. The last bar is played once before
 * the loop and cut off again, so that what rings on from the loop's end is already there at its beginning.
 *
 * @param sampleRateHz  any that the browser renders at
 * @returns  sixteen seconds of samples to the nearest 1024, root mean square 0.1
 */
export async function renderMusicLoop(sampleRateHz: number): Promise<Float32Array> {
  const loopS = loopBeats * (60 / tempoBpm)
  const leadIn = Math.round(((loopS / loopBars) * sampleRateHz) / quantumSamples) * quantumSamples
  const length = leadIn * loopBars
  const rendered = await renderOffline({ sampleRateHz, length: leadIn + length }, (context, clock) => {
    const band = createBand(context, sampleRateHz)
    const notes = musicScore().map((note) => ({ note, sample: Math.round((note.beat / loopBeats) * length) }))
    // Bar −1 is the lead-in. In order of time, because the ducking of one kick begins where that of the kick before it ends.
    const playBar = (bar: number): void => {
      const barStart = (bar + 1) * leadIn
      const written = (bar + loopBars) % loopBars
      for (const { note, sample } of notes
        .filter((each) => Math.floor(each.sample / leadIn) === written)
        .sort((a, b) => a.sample - b.sample)) {
        band.play(note, (barStart + sample - written * leadIn) / sampleRateHz)
      }
    }
    playBar(-1)
    for (let bar = 0; bar < loopBars; bar++) {
      if (!clock) {
        playBar(bar)
        continue
      }
      // Bar by bar while it is rendered, because every node that exists costs time in every render quantum.
      clock.callAt(((bar + 1) * leadIn - quantumSamples) / sampleRateHz, () => {
        band.forgetBefore((bar * leadIn) / sampleRateHz)
        playBar(bar)
      })
    }
  })
  return scaleToRms(rendered.slice(leadIn), signalRms)
}

type Envelope = { startS: number; attackS: number; holdS: number; decayS: number; level: number }

type Band = {
  /** Schedules one note. Notes come in order of time. */
  play(note: MusicNote, startS: number): void
  /** Gives back what has fallen silent before a time. */
  forgetBefore(timeS: number): void
}

/** The voices, each through its own filter. */
function createBand(context: Context, sampleRateHz: number): Band {
  const secondsOfBeats = (beats: number): number => (beats * 60) / tempoBpm
  const out = new Gain({ context, gain: 1 })
  out.connect(context.rawContext.destination)
  const bus = (gain: number, target: Gain): Gain => {
    const level = new Gain({ context, gain })
    level.connect(target)
    return level
  }
  const through = (
    type: BiquadFilterType,
    frequencyHz: number,
    q: number,
    target: Gain | BiquadFilter,
  ): BiquadFilter => {
    const filter = new BiquadFilter({ context, type, frequency: frequencyHz, Q: q })
    filter.connect(target)
    return filter
  }

  // Kick and drums go straight out; bass, chords and plucks through a gain that gives way to the kick.
  const ducked = bus(1, out)
  const room = new Convolver({ context, normalize: false })
  room.buffer = monoBuffer(context, roomResponse(sampleRateHz))
  const roomReturn = through('highpass', 300, 0.7, bus(1, ducked))
  room.connect(roomReturn)
  const withRoom = (gain: number, send: number, target: Gain): Gain => {
    const level = bus(gain, target)
    const sent = new Gain({ context, gain: send })
    level.connect(sent)
    sent.connect(room)
    return level
  }

  const kickOut = bus(0.72, out)
  const kickClick = through('bandpass', 2500, 0.6, kickOut)
  const clapOut = through('bandpass', 2300, 0.5, withRoom(3, 0.25, out))
  const hatOut = through('highpass', 7000, 0.6, through('lowpass', 14000, 0.5, bus(2.5, out)))
  const shakerOut = through('bandpass', 5200, 0.8, bus(1.5, out))
  const bassOut = bus(0.31, ducked)
  const chordOut = withRoom(0.2, 0.5, ducked)
  const pluckOut = withRoom(0.28, 0.6, ducked)
  const noise = monoBuffer(context, pinkNoise({ sampleRateHz, durationS: 2, seed: 7 }))

  let sounding: { endS: number; node: { dispose(): unknown } }[] = []
  const until = <T extends { dispose(): unknown }>(endS: number, node: T): T => {
    sounding.push({ endS, node })
    return node
  }
  const endOf = ({ startS, attackS, holdS, decayS }: Envelope): number => startS + attackS + holdS + decaysKept * decayS

  /** A gain that rises in a straight line, then decays with a time constant from `holdS` on. */
  const envelope = (shape: Envelope): Gain => {
    const { startS, attackS, holdS, decayS, level } = shape
    const gain = until(endOf(shape), new Gain({ context, gain: 0 }))
    gain.gain.setValueAtTime(0, startS)
    gain.gain.linearRampToValueAtTime(level, startS + attackS)
    gain.gain.setTargetAtTime(0, startS + attackS + holdS, decayS)
    return gain
  }

  const oscillate = (
    type: 'sine' | 'triangle' | 'sawtooth',
    output: BiquadFilter | Gain,
    frequencyHz: number,
    shape: Envelope,
  ): ToneOscillatorNode => {
    const oscillator = until(endOf(shape), new ToneOscillatorNode({ context, type, frequency: frequencyHz }))
    oscillator.connect(output)
    oscillator.start(shape.startS)
    oscillator.stop(endOf(shape))
    return oscillator
  }

  const tone = (...[type, output, frequencyHz, shape]: Parameters<typeof oscillate>): ToneOscillatorNode =>
    oscillate(type, envelope(shape).connect(output), frequencyHz, shape)

  /** Each stroke takes another piece of the noise by its beat, or all would sound stamped from one die. */
  const burst = (output: BiquadFilter | Gain, beat: number, shape: Envelope): void => {
    const source = until(endOf(shape), new ToneBufferSource({ context, url: noise, loop: true }))
    source.connect(envelope(shape).connect(output))
    source.start(shape.startS, (beat * 0.271) % 1.5)
    source.stop(endOf(shape))
  }

  /** A low-pass that opens with the stroke and closes after it. */
  const opening = (
    { startS, endS, openHz, restHz, closeS }: Record<'startS' | 'endS' | 'openHz' | 'restHz' | 'closeS', number>,
    target: Gain,
  ): BiquadFilter => {
    const filter = until(endS, through('lowpass', openHz, 0.8, target))
    filter.frequency.setValueAtTime(openHz, startS)
    filter.frequency.setTargetAtTime(restHz, startS, closeS)
    return filter
  }

  /** What the notes of one struck chord share: an envelope and a filter. */
  const strikes = new Map<number, BiquadFilter>()
  const strike = (shape: Envelope): BiquadFilter => {
    const known = strikes.get(shape.startS)
    if (known) return known
    const { startS, level } = shape
    const gain = envelope(shape)
    gain.connect(chordOut)
    const opened = opening(
      { startS, endS: endOf(shape), openHz: 1400 + 6000 * level, restHz: 1500, closeS: 0.14 },
      gain,
    )
    strikes.set(startS, opened)
    return opened
  }

  return {
    forgetBefore(timeS) {
      for (const { endS, node } of sounding) if (endS < timeS) node.dispose()
      sounding = sounding.filter(({ endS }) => endS >= timeS)
    },
    play(note, startS) {
      const level = note.level
      switch (note.voice) {
        case 'kick': {
          // The falling pitch is the beater's thump; the body stays near 50 Hz.
          const body = tone('sine', kickOut, 180, { startS, attackS: 0.002, holdS: 0.06, decayS: 0.07, level })
          body.frequency.setValueAtTime(180, startS)
          body.frequency.exponentialRampToValueAtTime(50, startS + 0.07)
          burst(kickClick, note.beat, { startS, attackS: 0.001, holdS: 0, decayS: 0.006, level: 0.8 * level })
          ducked.gain.setTargetAtTime(0.4, startS, 0.004)
          ducked.gain.setTargetAtTime(1, startS + 0.07, 0.07)
          break
        }
        case 'clap':
          // Hands never fall together: three short bursts, then the one that rings.
          for (const [afterS, decayS] of [
            [0, 0.004],
            [0.011, 0.004],
            [0.021, 0.07],
          ] as const)
            burst(clapOut, note.beat + afterS, { startS: startS + afterS, attackS: 0.001, holdS: 0, decayS, level })
          break
        case 'closed-hat':
          burst(hatOut, note.beat, { startS, attackS: 0.001, holdS: 0, decayS: 0.022, level })
          break
        case 'open-hat':
          burst(hatOut, note.beat, { startS, attackS: 0.001, holdS: 0.02, decayS: 0.07, level })
          break
        case 'shaker':
          burst(shakerOut, note.beat, { startS, attackS: 0.018, holdS: 0, decayS: 0.02, level })
          break
        case 'bass': {
          const shape = { startS, attackS: 0.006, holdS: secondsOfBeats(note.beats), decayS: 0.03, level }
          tone('sine', bassOut, note.frequencyHz, shape)
          const growl = opening({ startS, endS: endOf(shape), openHz: 900, restHz: 220, closeS: 0.12 }, bassOut)
          tone('sawtooth', growl, note.frequencyHz, { ...shape, level: 0.5 * level })
          break
        }
        case 'chord': {
          const shape = { startS, attackS: 0.008, holdS: secondsOfBeats(note.beats), decayS: 0.09, level }
          const opened = strike(shape)
          // Two saws 10 cents apart beat slowly, which keeps the chord from sounding like an organ stop.
          for (const cents of [-5, 5]) oscillate('sawtooth', opened, note.frequencyHz * 2 ** (cents / 1200), shape)
          break
        }
        case 'pluck': {
          const shape = { startS, attackS: 0.003, holdS: 0.02, decayS: 0.12, level }
          tone('triangle', pluckOut, note.frequencyHz, shape)
          // A bright partial that is gone at once gives the pluck its pick.
          tone('sine', pluckOut, 4 * note.frequencyHz, { ...shape, decayS: 0.03, level: 0.35 * level })
          break
        }
      }
    },
  }
}

/** A small room: noise that dies away, its treble a little sooner; energy about 1. */
function roomResponse(sampleRateHz: number): Float32Array {
  const random = seededRandom(5)
  const response = new Float32Array(Math.round(roomS * sampleRateHz))
  const decayS = roomS / Math.log(1000)
  let softened = 0
  let energy = 0
  for (let n = 0; n < response.length; n++) {
    const timeS = n / sampleRateHz
    // A low-pass that closes from wide open to about 2 kHz over the decay.
    const cornerHz = 2000 + 8000 * Math.exp(-timeS / 0.15)
    const share = 1 - Math.exp((-2 * Math.PI * cornerHz) / sampleRateHz)
    softened += share * (2 * random() - 1 - softened)
    // The first 12 ms build up, so that the room does not double the stroke.
    const sample = softened * Math.exp(-timeS / decayS) * Math.min(1, timeS / 0.012)
    response[n] = sample
    energy += sample * sample
  }
  return response.map((sample) => sample / Math.sqrt(energy))
}
