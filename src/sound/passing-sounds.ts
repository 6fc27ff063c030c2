import { createCeiling } from './ceiling-nodes.ts'
import type { SoundClock } from './sound-clock.ts'
import { callAfter } from './sound-clock.ts'
import { openSoundContext } from './sound-context.ts'
import type { Context, Gain } from './tone-nodes.ts'

/** What a player of sounds that pass by themselves may be given. */
export type PassingOptions = {
  /** An audio context to build in; without one a live context is made, so call in answer to a press. */
  context?: OfflineAudioContext | AudioContext
  /** Called whenever the last sound has died away. */
  onSilent?: () => void
  /** Called in the reader's words when the sound is taken away while it plays. */
  onTaken?: (words: string) => void
}

/** One sound on its way: how it fades out, till when (s), and how it gives its nodes back. */
export type PassingSound = { fadeOut(): number; giveBack(): void }

/** The sounds that play in one context, and the context's life. After `dispose` nothing more is to be added. */
export type PassingSounds = {
  readonly context: Context
  readonly clock: SoundClock
  /** What to play into: the ceiling at −1 dBFS, then the output. */
  readonly input: Gain
  /** Whether it is gone for good, by `dispose` or because the browser has closed its context. */
  readonly disposed: boolean
  /** Highest sample that leaves, re digital full scale; see `CeilingNodes`. */
  peak(): number
  add(sound: PassingSound): void
  /** Whether a sound plays and has not been told to end. */
  lasts(sound: PassingSound): boolean
  /** Lets a sound end: faded out, or where it is silent by itself, at a time, s. */
  end(sound: PassingSound, silentS?: number): void
  /** Lets every sound fade out. */
  endAll(): void
  /** Wakes the context. Rejects in the reader's words if the browser lets nothing be heard; every sound is broken off then. */
  wake(): Promise<void>
  /** Fades everything out, or breaks it off at once where time stands still. */
  stop(): void
  dispose(): void
}

/**
 * Opens a context for sounds that pass by themselves.
 *
 * @throws Error if the browser has no Web Audio
 */
export function createPassingSounds(options: PassingOptions): PassingSounds {
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
  const playing = new Set<PassingSound>()
  const lasting = new Set<PassingSound>()
  let disposed = false

  /** Ends every sound at once, without a fade: for when nothing is heard anyway. */
  const breakOff = (): void => {
    lasting.clear()
    for (const each of playing) each.giveBack()
    playing.clear()
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
  const end = (ending: PassingSound, silentS?: number): void => {
    if (!lasting.delete(ending)) return
    callAfter(clock, silentS ?? ending.fadeOut(), () => {
      // Broken off meanwhile.
      if (!playing.delete(ending)) return
      ending.giveBack()
      if (playing.size > 0) return
      if (disposed) {
        tearDown()
        return
      }
      sound.sleep()
      options.onSilent?.()
    })
  }
  const endAll = (): void => {
    for (const each of lasting) end(each)
  }

  return {
    context,
    clock,
    input: ceiling.input,
    get disposed() {
      return disposed
    },
    peak: () => (disposed ? 0 : ceiling.peak()),
    add(started) {
      playing.add(started)
      lasting.add(started)
    },
    lasts: (one) => lasting.has(one),
    end,
    endAll,
    async wake() {
      try {
        await sound.wake()
      } catch (error) {
        letGo()
        throw error
      }
    },
    stop() {
      if (!sound.stands) {
        endAll()
        return
      }
      if (playing.size === 0) return
      breakOff()
      sound.sleep()
      if (!disposed) options.onSilent?.()
    },
    dispose() {
      if (disposed) return
      disposed = true
      endAll()
      if (playing.size === 0 || sound.stands) tearDown()
    },
  }
}
