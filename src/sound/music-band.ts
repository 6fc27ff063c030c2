import { seededRandom } from '../acoustics/signals/seeded-random.ts'
import type { MusicNote } from './music-score.ts'
import { tempoBpm } from './music-score.ts'
import type { Envelope } from './note-kit.ts'
import { createNoteKit, through } from './note-kit.ts'
import type { BiquadFilter, Context } from './tone-nodes.ts'
import { Convolver, Gain, monoBuffer } from './tone-nodes.ts'

/** How long the room behind chords, plucks and claps rings on to −60 dB, s. */
const roomS = 0.9

/** The players of the score. */
export type Band = {
  /** Schedules one note. Notes come in order of time. */
  play(note: MusicNote, startS: number): void
  /** Gives back what has fallen silent before a time. */
  forgetBefore(timeS: number): void
}

/** The voices, each through its own way out. */
export function createBand(context: Context, sampleRateHz: number): Band {
  const { ducked, kickOut, kickClick, clapOut, hatOut, shakerOut, bassOut, chordOut, pluckOut } = createDesk(
    context,
    sampleRateHz,
  )
  const { endOf, envelope, oscillate, tone, burst, opening, forgetBefore } = createNoteKit(context, sampleRateHz)
  const secondsOfBeats = (beats: number): number => (beats * 60) / tempoBpm

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
    forgetBefore,
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

/** The ways out of the voices, each through its own filter. */
function createDesk(context: Context, sampleRateHz: number) {
  const out = new Gain({ context, gain: 1 })
  out.connect(context.rawContext.destination)
  const bus = (gain: number, target: Gain): Gain => {
    const level = new Gain({ context, gain })
    level.connect(target)
    return level
  }
  // Kick and drums go straight out; bass, chords and plucks through a gain that gives way to the kick.
  const ducked = bus(1, out)
  const room = new Convolver({ context, normalize: false })
  room.buffer = monoBuffer(context, roomResponse(sampleRateHz))
  const roomReturn = through(context, { type: 'highpass', frequencyHz: 300, q: 0.7 }, bus(1, ducked))
  room.connect(roomReturn)
  const withRoom = (gain: number, send: number, target: Gain): Gain => {
    const level = bus(gain, target)
    const sent = new Gain({ context, gain: send })
    level.connect(sent)
    sent.connect(room)
    return level
  }

  const kickOut = bus(0.72, out)
  const kickClick = through(context, { type: 'bandpass', frequencyHz: 2500, q: 0.6 }, kickOut)
  const clapOut = through(context, { type: 'bandpass', frequencyHz: 2300, q: 0.5 }, withRoom(3, 0.25, out))
  const hatOut = through(
    context,
    { type: 'highpass', frequencyHz: 7000, q: 0.6 },
    through(context, { type: 'lowpass', frequencyHz: 14000, q: 0.5 }, bus(2.5, out)),
  )
  const shakerOut = through(context, { type: 'bandpass', frequencyHz: 5200, q: 0.8 }, bus(1.5, out))
  const bassOut = bus(0.31, ducked)
  const chordOut = withRoom(0.2, 0.5, ducked)
  const pluckOut = withRoom(0.28, 0.6, ducked)
  return { ducked, kickOut, kickClick, clapOut, hatOut, shakerOut, bassOut, chordOut, pluckOut }
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
