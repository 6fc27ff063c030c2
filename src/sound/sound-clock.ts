/**
 * Time as the audio graph counts it. Changes are scheduled for `nowS` at the earliest, which lies `leadS` ahead of the
 * sample being rendered, so that a ramp is never asked for too late and then jumped into.
 */
export type SoundClock = {
  readonly leadS: number
  nowS(): number
  /** Calls back once `nowS` has reached a time; never within the call itself. */
  callAt(timeS: number, callback: () => void | Promise<void>): void
}

/** Calls back once everything scheduled up to a time has been rendered. */
export function callAfter(clock: SoundClock, timeS: number, callback: () => void): void {
  clock.callAt(timeS + clock.leadS, callback)
}

/** Samples in a render quantum of the Web Audio API. */
const quantumSamples = 128

/** Whether the browser can halt a rendering, so that something is done in the middle of it. Firefox cannot. */
export const canHalt = (context: OfflineAudioContext): boolean => typeof context.suspend === 'function'

const offlineClocks = new WeakMap<OfflineAudioContext, SoundClock>()

/**
 * Clock of a rendering that runs faster than time: it halts the rendering at the wanted moment, calls back, and lets
 * it go on. One a context, because a context can be halted only once in a render quantum. Its `callAt` needs `canHalt`.
 */
export function offlineClock(context: OfflineAudioContext): SoundClock {
  const known = offlineClocks.get(context)
  if (known) return known
  const due = new Map<number, (() => void | Promise<void>)[]>()
  const quantaOf = (timeS: number): number => (timeS * context.sampleRate) / quantumSamples
  const callAt: SoundClock['callAt'] = (timeS, callback) => {
    const next = Math.round(quantaOf(context.currentTime)) + 1
    const quantum = Math.max(Math.ceil(quantaOf(timeS) - 1e-6), next)
    if (quantum * quantumSamples >= context.length) return
    const together = due.get(quantum)
    if (together) {
      together.push(callback)
      return
    }
    const callbacks = [callback]
    due.set(quantum, callbacks)
    // Half a sample late, so that rounding down to the quantum cannot fall into the one before.
    const halted = context.suspend((quantum * quantumSamples + 0.5) / context.sampleRate)
    void halted.then(async () => {
      for (const call of callbacks) await call()
      due.delete(quantum)
      await context.resume()
    })
  }
  const clock: SoundClock = { leadS: 0, nowS: () => context.currentTime, callAt }
  offlineClocks.set(context, clock)
  return clock
}
