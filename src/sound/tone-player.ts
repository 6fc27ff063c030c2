import { createCeiling } from './ceiling-nodes.ts'
import { createFader, type Fader } from './fader.ts'
import { gainFromDb } from './gain.ts'
import { callAfter } from './sound-clock.ts'
import { openSoundContext } from './sound-context.ts'
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
  dispose(): void
}

/** How fast bursts are broken off, s. */
const stopFadeS = 0.06

type Run = { gain: Gain; fader: Fader; bursts: Set<() => void>; ending: boolean }

/**
 * Builds oscillator → fades → run → ceiling at −1 dBFS → output. Silent until `play`.
 *
 * @param options.context   an audio context to build in; without one a live context is made, so call this in answer to a press
 * @param options.onSilent  called whenever the last burst has died away
 * @param options.onTaken   called in the reader's words when the sound is taken away while it plays
 * @throws Error if the browser has no Web Audio
 */
export function createTonePlayer(
  options: {
    context?: OfflineAudioContext | AudioContext
    onSilent?: () => void
    onTaken?: (words: string) => void
  } = {},
): TonePlayer {
  const sound = openSoundContext({
    given: options.context,
    onTaken: (words) => {
      const isOver = disposed
      letGo()
      if (!isOver) options.onTaken?.(words)
    },
  })
  const { context, clock } = sound
  const ceiling = createCeiling(context)
  const runs = new Set<Run>()
  let disposed = false

  const clear = (run: Run): void => {
    for (const drop of [...run.bursts]) drop()
    run.gain.dispose()
    runs.delete(run)
  }
  /** Ends every run at once, without a fade: for when nothing is heard anyway. */
  const breakOff = (): void => {
    for (const run of [...runs]) {
      run.ending = true
      clear(run)
    }
  }
  const tearDown = (): void => {
    breakOff()
    ceiling.dispose()
    sound.close()
  }
  /** What is left to do when the sound is not there any more, or has never come. */
  const letGo = (): void => {
    breakOff()
    disposed ||= sound.closed
    if (disposed) tearDown()
  }
  const end = (run: Run, fade: boolean): void => {
    if (run.ending) return
    run.ending = true
    callAfter(clock, fade ? run.fader.fadeTo(0) : clock.nowS(), () => {
      // Broken off meanwhile.
      if (!runs.has(run)) return
      clear(run)
      if (runs.size > 0) return
      if (disposed) {
        tearDown()
        return
      }
      sound.sleep()
      options.onSilent?.()
    })
  }
  const soundBurst = (run: Run, { frequencyHz, peakDb, durationS }: ToneBurst): void => {
    const startS = clock.nowS()
    const oscillator = new ToneOscillatorNode({ context, type: 'sine', frequency: frequencyHz })
    const envelope = new Gain({ context, gain: 0 })
    oscillator.connect(envelope)
    envelope.connect(run.gain)
    const peak = gainFromDb(peakDb)
    envelope.gain.setValueAtTime(0, startS)
    envelope.gain.linearRampToValueAtTime(peak, startS + burstFadeS)
    envelope.gain.setValueAtTime(peak, startS + durationS - burstFadeS)
    envelope.gain.linearRampToValueAtTime(0, startS + durationS)
    oscillator.start(startS)
    const drop = (): void => {
      if (!run.bursts.delete(drop)) return
      oscillator.dispose()
      envelope.dispose()
    }
    run.bursts.add(drop)
    callAfter(clock, startS + durationS, drop)
  }

  return {
    get disposed() {
      return disposed
    },
    async play(nextBurst) {
      if (disposed) return
      const first = nextBurst()
      if (first) requireBurst(first)
      for (const run of runs) end(run, true)
      if (!first) return
      const gain = new Gain({ context, gain: 1 })
      gain.connect(ceiling.input)
      const fader = createFader({ param: gain.gain, clock, gain: 1, rampS: stopFadeS })
      const run: Run = { gain, fader, bursts: new Set(), ending: false }
      runs.add(run)
      const advance = (burst: ToneBurst): void => {
        const startS = clock.nowS()
        soundBurst(run, burst)
        clock.callAt(startS + burst.durationS + burst.gapS, () => {
          if (run.ending) return
          const next = nextBurst()
          if (!next) {
            end(run, false)
            return
          }
          try {
            advance(requireBurst(next))
          } catch (error) {
            end(run, true)
            throw error
          }
        })
      }
      advance(first)
      try {
        await sound.wake()
      } catch (error) {
        letGo()
        throw error
      }
    },
    stop() {
      if (!sound.stands) {
        for (const run of runs) end(run, true)
        return
      }
      if (runs.size === 0) return
      breakOff()
      sound.sleep()
      if (!disposed) options.onSilent?.()
    },
    dispose() {
      if (disposed) return
      disposed = true
      for (const run of runs) end(run, true)
      if (runs.size === 0 || sound.stands) tearDown()
    },
  }
}
