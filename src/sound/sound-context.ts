import { openLiveContext, type Waking, watchContext } from './live-context.ts'
import type { SoundClock } from './sound-clock.ts'
import { type Context, openContext } from './tone-nodes.ts'

/** The context that a player builds its nodes in, live or rendered faster than time. */
export type SoundContext = Waking & {
  readonly context: Context
  readonly clock: SoundClock
  readonly sampleRateHz: number
  /** Whether its time stands still: nothing is heard, and nothing would be called back. */
  readonly stands: boolean
  /** Whether it is closed for good. */
  readonly closed: boolean
  /** Gives it back. A context that was handed in is its owner's to close; only the ticking of its wrapper ends. */
  close(): void
}

/**
 * Opens the context of a player.
 *
 * @param options.given    a context to build in; without one a live context is made, so call this in answer to a press
 * @param options.onTaken  called in the reader's words when the sound is taken away while it plays
 * @throws Error if the browser has no Web Audio
 */
export function openSoundContext(options: {
  given: OfflineAudioContext | AudioContext | undefined
  onTaken: (words: string) => void
}): SoundContext {
  const raw = options.given ?? openLiveContext()
  const { context, clock } = openContext(raw)
  // A rendering is begun by whoever handed the context in, and nothing takes it away.
  const isLive = !(raw instanceof OfflineAudioContext)
  const { wake, sleep }: Waking = isLive
    ? watchContext(raw, options.onTaken)
    : { wake: async () => {}, sleep: () => {} }
  return {
    context,
    clock,
    sampleRateHz: raw.sampleRate,
    get stands() {
      return isLive ? raw.state !== 'running' : raw.state === 'closed'
    },
    get closed() {
      return raw.state === 'closed'
    },
    wake,
    sleep,
    close() {
      sleep()
      if (options.given) context.clockSource = 'offline'
      else context.dispose()
    },
  }
}
