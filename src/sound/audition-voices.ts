import type { LoopedSource } from './looped-source.ts'
import { startLoop } from './looped-source.ts'
import type { SoundClock } from './sound-clock.ts'
import { callAfter } from './sound-clock.ts'
import type { Context, Gain } from './tone-nodes.ts'

/** The loops that sound: the present one, and those that fade and ring out behind it. */
export type Voices = {
  /** Whether anything is heard still. */
  readonly heard: boolean
  /** The loop that has been begun and not ended. */
  readonly present: Float32Array | undefined
  /** Begins a loop; the one before fades out meanwhile. */
  begin(samples: Float32Array): void
  /** Lets the present loop fade out, and the responses ring out behind it. */
  end(): void
  /** Ends everything that sounds at once, without a fade: for when nothing is heard anyway. */
  breakOff(): void
}

/**
 * @param wiring  context and clock, the node to play into, how long the responses ring, s, and what is to be done when the last
 *                loop has died away
 */
export function createVoices(wiring: {
  context: Context
  clock: SoundClock
  output: Gain
  ringS: () => number
  onSilent: () => void
}): Voices {
  const { context, clock, output } = wiring
  const sounding = new Set<LoopedSource>()
  let present: { samples: Float32Array; source: LoopedSource } | undefined

  const end = (): void => {
    const ending = present?.source
    present = undefined
    if (!ending) return
    callAfter(clock, ending.fadeOut() + wiring.ringS(), () => {
      // Broken off meanwhile.
      if (!sounding.delete(ending)) return
      ending.dispose()
      if (sounding.size === 0) wiring.onSilent()
    })
  }

  return {
    get heard() {
      return sounding.size > 0
    },
    get present() {
      return present?.samples
    },
    begin(samples) {
      end()
      present = { samples, source: startLoop({ context, clock, samples, output }) }
      sounding.add(present.source)
    },
    end,
    breakOff() {
      for (const source of sounding) source.dispose()
      sounding.clear()
      present = undefined
    },
  }
}
