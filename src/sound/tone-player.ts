import { createFader } from './fader.ts'
import { gainFromDb } from './gain.ts'
import { createPassingSounds, type PassingOptions, type PassingSound, type PassingSounds } from './passing-sounds.ts'
import { callAfter } from './sound-clock.ts'
import { burstFadeS, requireBurst, type ToneBurst } from './tone-bursts.ts'
import { Gain, ToneOscillatorNode } from './tone-nodes.ts'

/** Plays short tones one after the other. After `dispose` every call does nothing. */
export type TonePlayer = {
  /** Whether it is gone for good, by `dispose` or because the browser has closed its context. */
  readonly disposed: boolean
  /**
   * Asks for the first burst at once and for each further one just before it begins, so that what changes meanwhile is heard
   * in the next; ends when there is none. What still plays fades out first. Resolves when the first is heard, or when it has
   * been stopped before. Rejects in the reader's words if the browser lets nothing be heard, and with RangeError for a burst
   * out of range.
   */
  play(nextBurst: () => ToneBurst | undefined): Promise<void>
  /** Fades out. */
  stop(): void
  /** Highest sample that leaves, re digital full scale. */
  peak(): number
  dispose(): void
}

/** How fast bursts are broken off, s. */
const stopFadeS = 0.06

/** Bursts that follow each other through one gain, by which they are faded out together. */
type Run = PassingSound & { sound(burst: ToneBurst): void }

/**
 * Builds oscillator → fades → run → ceiling at −1 dBFS → output. Silent until `play`.
 *
 * @throws Error if the browser has no Web Audio
 */
export function createTonePlayer(options: PassingOptions = {}): TonePlayer {
  const sounds = createPassingSounds(options)
  const { clock } = sounds
  return {
    get disposed() {
      return sounds.disposed
    },
    async play(nextBurst) {
      if (sounds.disposed) return
      const first = nextBurst()
      if (first) requireBurst(first)
      sounds.endAll()
      if (!first) return
      const run = createRun(sounds)
      sounds.add(run)
      const advance = (burst: ToneBurst): void => {
        const startS = clock.nowS()
        run.sound(burst)
        clock.callAt(startS + burst.durationS + burst.gapS, () => {
          if (!sounds.lasts(run)) return
          const next = nextBurst()
          if (!next) {
            sounds.end(run, clock.nowS())
            return
          }
          try {
            advance(requireBurst(next))
          } catch (error) {
            sounds.end(run)
            throw error
          }
        })
      }
      advance(first)
      await sounds.wake()
    },
    stop: () => sounds.stop(),
    peak: () => sounds.peak(),
    dispose: () => sounds.dispose(),
  }
}

function createRun({ context, clock, input }: PassingSounds): Run {
  const gain = new Gain({ context, gain: 1 })
  gain.connect(input)
  const fader = createFader({ param: gain.gain, clock, gain: 1, rampS: stopFadeS })
  const bursts = new Set<() => void>()
  return {
    sound({ frequencyHz, peakDb, durationS }) {
      const startS = clock.nowS()
      const oscillator = new ToneOscillatorNode({ context, type: 'sine', frequency: frequencyHz })
      const envelope = new Gain({ context, gain: 0 })
      oscillator.connect(envelope)
      envelope.connect(gain)
      const peak = gainFromDb(peakDb)
      envelope.gain.setValueAtTime(0, startS)
      envelope.gain.linearRampToValueAtTime(peak, startS + burstFadeS)
      envelope.gain.setValueAtTime(peak, startS + durationS - burstFadeS)
      envelope.gain.linearRampToValueAtTime(0, startS + durationS)
      oscillator.start(startS)
      const drop = (): void => {
        if (!bursts.delete(drop)) return
        oscillator.dispose()
        envelope.dispose()
      }
      bursts.add(drop)
      callAfter(clock, startS + durationS, drop)
    },
    fadeOut: () => fader.fadeTo(0),
    giveBack() {
      for (const drop of [...bursts]) drop()
      gain.dispose()
    },
  }
}
