import { withTimeLimit } from '../engine/workers/time-limit.ts'
import * as say from './sound.messages.ts'
import { soundLimitsS } from './sound-limits.ts'

/** A context that is closed before it has woken or gone to sleep refuses to; nothing is to be done about it then. */
const ignoreClosed = (): void => {}

/**
 * A live context, asleep until the first start; to be opened in answer to a press.
 *
 * @throws Error if the browser has no Web Audio
 */
export function openLiveContext(): AudioContext {
  if (typeof AudioContext === 'undefined') {
    throw new Error(say.noWebAudio())
  }
  const context = new AudioContext({ latencyHint: 'interactive' })
  context.suspend().catch(ignoreClosed)
  return context
}

/** Wakes a live context and knows whether it really runs. */
export type Waking = {
  /**
   * Wakes the context. Resolves once it runs, or quietly when it is put to sleep before. Rejects in the reader's words if the
   * browser refuses, or if nothing runs within the limit: without a device a context stays asleep and says nothing.
   */
  wake(): Promise<void>
  /** Puts the context to sleep: from now on it is nobody's loss that it does not run. */
  sleep(): void
}

/**
 * Watches over a live context.
 *
 * @param context  asleep
 * @param onTaken  called in the reader's words when a context that was awake falls asleep or is closed by something else. It
 *                 has then been put to sleep for good, so that no sound comes back by itself when a call or an alarm is over.
 */
export function watchContext(context: AudioContext, onTaken: (words: string) => void): Waking {
  let awake = false
  let waking: { done: Promise<void>; end: () => void } | undefined
  const isRunning = (): boolean => context.state === 'running'

  const sleep = (): void => {
    awake = false
    waking?.end()
    waking = undefined
    context.suspend().catch(ignoreClosed)
  }

  context.addEventListener('statechange', () => {
    if (waking && isRunning()) waking.end()
    if (!awake || isRunning()) return
    sleep()
    onTaken(say.taken())
  })

  const begin = (): { done: Promise<void>; end: () => void } => {
    let end = (): void => {}
    // What ends the waiting: the context runs, refuses, or is no longer wanted.
    const over = new Promise<void>((resolve, reject) => {
      end = resolve
      // Not every browser runs when it resolves; the change of state then ends the waiting.
      context.resume().then(() => isRunning() && resolve(), reject)
    })
    const run = async (): Promise<void> => {
      try {
        await withTimeLimit(over, soundLimitsS.waking, say.starting())
      } catch {
        if (waking !== attempt) return
        sleep()
        throw new Error(say.doesNotStart())
      }
      // Put to sleep meanwhile.
      if (waking !== attempt) return
      waking = undefined
      awake = true
    }
    const attempt = { done: run(), end }
    return attempt
  }

  return {
    async wake() {
      if (awake) return
      waking ??= begin()
      await waking.done
    },
    sleep,
  }
}
