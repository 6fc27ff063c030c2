import { createCeiling } from './ceiling-nodes.ts'
import type { Fader } from './fader.ts'
import { createFader } from './fader.ts'
import { gainFromDb } from './gain.ts'
import { ladderFadeS, ladderPeakDb, ladderToneS } from './ladder-tones.ts'
import { ignoreClosed, openLiveContext } from './live-context.ts'
import { callAfter } from './sound-clock.ts'
import { Gain, openContext, ToneOscillatorNode } from './tone-nodes.ts'

/** Test tones, one at a time. After `dispose` every call does nothing. */
export type ToneLadder = {
  /** Fades a tone in, and out again after `ladderToneS`; one that still sounds fades out. Throws RangeError outside 40 … 1000 Hz. */
  play(frequencyHz: number): void
  /** Fades out. */
  stop(): void
  dispose(): void
}

type SoundingTone = { oscillator: ToneOscillatorNode; gain: Gain; fader: Fader; ending: boolean }

/**
 * Builds what the test tones are heard through: oscillator → fade → ceiling at −1 dBFS → output. Silent until `play`.
 *
 * @param options.context   an audio context to build in; without one a live context is made, so call this in answer to a press
 * @param options.onSilent  called whenever the last tone has died away
 * @throws Error if the browser has no Web Audio
 */
export function createToneLadder(
  options: { context?: OfflineAudioContext | AudioContext; onSilent?: () => void } = {},
): ToneLadder {
  const raw = options.context ?? openLiveContext()
  const isLive = !(raw instanceof OfflineAudioContext)
  const { context, clock } = openContext(raw)
  const ceiling = createCeiling(context)
  const tones = new Set<SoundingTone>()
  let disposed = false

  const tearDown = (): void => {
    for (const { oscillator, gain } of tones) {
      oscillator.dispose()
      gain.dispose()
    }
    tones.clear()
    ceiling.dispose()
    if (options.context) context.clockSource = 'offline'
    else context.dispose()
  }

  const end = (tone: SoundingTone): void => {
    if (tone.ending) return
    tone.ending = true
    callAfter(clock, tone.fader.fadeTo(0), () => {
      // Torn down meanwhile.
      if (!tones.delete(tone)) return
      tone.oscillator.dispose()
      tone.gain.dispose()
      if (tones.size > 0) return
      if (disposed) {
        tearDown()
        return
      }
      if (isLive) raw.suspend().catch(ignoreClosed)
      options.onSilent?.()
    })
  }

  return {
    play(frequencyHz) {
      if (disposed) return
      const peak = gainFromDb(ladderPeakDb(frequencyHz))
      for (const tone of tones) end(tone)
      const oscillator = new ToneOscillatorNode({ context, type: 'sine', frequency: frequencyHz })
      const gain = new Gain({ context, gain: 0 })
      oscillator.connect(gain)
      gain.connect(ceiling.input)
      const fader = createFader({ param: gain.gain, clock, gain: 0, rampS: ladderFadeS })
      const tone: SoundingTone = { oscillator, gain, fader, ending: false }
      tones.add(tone)
      const startS = clock.nowS()
      oscillator.start(startS)
      fader.fadeTo(peak)
      clock.callAt(startS + ladderToneS - ladderFadeS, () => end(tone))
      if (isLive) raw.resume().catch(ignoreClosed)
    },
    stop() {
      for (const tone of tones) end(tone)
    },
    dispose() {
      if (disposed) return
      disposed = true
      for (const tone of tones) end(tone)
      // Time stands still in a context that does not run; nothing would ever be called back.
      if (tones.size === 0 || raw.state !== 'running') tearDown()
    },
  }
}
