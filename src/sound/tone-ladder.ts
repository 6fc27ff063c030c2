import { createCeiling } from './ceiling-nodes.ts'
import type { Fader } from './fader.ts'
import { createFader } from './fader.ts'
import { gainFromDb } from './gain.ts'
import { ladderFadeS, ladderPeakDb, ladderToneS } from './ladder-tones.ts'
import { callAfter } from './sound-clock.ts'
import { openSoundContext } from './sound-context.ts'
import { Gain, ToneOscillatorNode } from './tone-nodes.ts'

/** Test tones, one at a time. After `dispose` every call does nothing. */
export type ToneLadder = {
  /** Whether it is gone for good, by `dispose` or because the browser has closed its context. */
  readonly disposed: boolean
  /**
   * Fades a tone in, and out again after `ladderToneS`; one that still sounds fades out. Resolves when it is heard, or when it
   * has been stopped before. Rejects in the reader's words if the browser lets nothing be heard, and with RangeError outside
   * 40 … 1000 Hz.
   */
  play(frequencyHz: number): Promise<void>
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
 * @param options.onTaken   called in the reader's words when the sound is taken away while it plays
 * @throws Error if the browser has no Web Audio
 */
export function createToneLadder(
  options: {
    context?: OfflineAudioContext | AudioContext
    onSilent?: () => void
    onTaken?: (words: string) => void
  } = {},
): ToneLadder {
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
  const tones = new Set<SoundingTone>()
  let disposed = false

  /** Ends every tone at once, without a fade: for when nothing is heard anyway. */
  const breakOff = (): void => {
    for (const { oscillator, gain } of tones) {
      oscillator.dispose()
      gain.dispose()
    }
    tones.clear()
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

  const end = (tone: SoundingTone): void => {
    if (tone.ending) return
    tone.ending = true
    callAfter(clock, tone.fader.fadeTo(0), () => {
      // Broken off meanwhile.
      if (!tones.delete(tone)) return
      tone.oscillator.dispose()
      tone.gain.dispose()
      if (tones.size > 0) return
      if (disposed) {
        tearDown()
        return
      }
      sound.sleep()
      options.onSilent?.()
    })
  }

  return {
    get disposed() {
      return disposed
    },
    async play(frequencyHz) {
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
      try {
        await sound.wake()
      } catch (error) {
        letGo()
        throw error
      }
    },
    stop() {
      if (!sound.stands) {
        for (const tone of tones) end(tone)
        return
      }
      if (tones.size === 0) return
      breakOff()
      sound.sleep()
      if (!disposed) options.onSilent?.()
    },
    dispose() {
      if (disposed) return
      disposed = true
      for (const tone of tones) end(tone)
      if (tones.size === 0 || sound.stands) tearDown()
    },
  }
}
