import { createCeiling } from './ceiling-nodes.ts'
import { createFader, type Fader } from './fader.ts'
import { gainFromDb } from './gain.ts'
import { ignoreClosed, openLiveContext } from './live-context.ts'
import { callAfter } from './sound-clock.ts'
import { burstFadeS, requireBurst, type ToneBurst } from './tone-bursts.ts'
import { Gain, openContext, ToneOscillatorNode } from './tone-nodes.ts'

/** Plays short tones one after the other. After `dispose` every call does nothing. */
export type TonePlayer = {
  /**
   * Asks for the first burst at once and for each further one just before it begins, so that what changes meanwhile is heard
   * in the next; ends when there is none. What still plays fades out first. Throws RangeError for a burst out of range.
   */
  play(nextBurst: () => ToneBurst | undefined): void
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
 * @throws Error if the browser has no Web Audio
 */
export function createTonePlayer(
  options: { context?: OfflineAudioContext | AudioContext; onSilent?: () => void } = {},
): TonePlayer {
  const raw = options.context ?? openLiveContext()
  const isLive = !(raw instanceof OfflineAudioContext)
  const { context, clock } = openContext(raw)
  const ceiling = createCeiling(context)
  const runs = new Set<Run>()
  let disposed = false

  const clear = (run: Run): void => {
    for (const drop of [...run.bursts]) drop()
    run.gain.dispose()
    runs.delete(run)
  }
  const tearDown = (): void => {
    for (const run of [...runs]) clear(run)
    ceiling.dispose()
    if (options.context) context.clockSource = 'offline'
    else context.dispose()
  }
  const end = (run: Run, fade: boolean): void => {
    if (run.ending) return
    run.ending = true
    callAfter(clock, fade ? run.fader.fadeTo(0) : clock.nowS(), () => {
      // Torn down meanwhile.
      if (!runs.has(run)) return
      clear(run)
      if (runs.size > 0) return
      if (disposed) {
        tearDown()
        return
      }
      if (isLive) raw.suspend().catch(ignoreClosed)
      options.onSilent?.()
    })
  }
  const sound = (run: Run, { frequencyHz, peakDb, durationS }: ToneBurst): void => {
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
    play(nextBurst) {
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
        sound(run, burst)
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
      if (isLive) raw.resume().catch(ignoreClosed)
    },
    stop() {
      for (const run of runs) end(run, true)
    },
    dispose() {
      if (disposed) return
      disposed = true
      for (const run of runs) end(run, true)
      // Time stands still in a context that does not run; nothing would ever be called back.
      if (runs.size === 0 || raw.state !== 'running') tearDown()
    },
  }
}
