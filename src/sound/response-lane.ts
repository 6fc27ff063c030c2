import type { Fader } from './fader.ts'
import { createFader } from './fader.ts'
import { settlingTimeS } from './settling-time.ts'
import type { SoundClock } from './sound-clock.ts'
import { callAfter } from './sound-clock.ts'
import type { Context } from './tone-nodes.ts'
import { Convolver, Gain, monoBuffer } from './tone-nodes.ts'

/** Length of the fade from one response to the next, s. */
const swapS = 0.04

/** The way from the source to one place: a convolver that can be replaced while it sounds. */
export type ResponseLane = {
  readonly output: Gain
  /** How long the present response goes on after its input ends, s. */
  readonly ringS: number
  /** Takes a new impulse response; heard without a click. */
  set(response: Float32Array): void
  /** Brings every change under way to its end at once; for when nothing is heard. */
  settle(): void
  /** Forgets what still rings; for when nothing is let through. */
  flush(): void
  dispose(): void
}

type Branch = { response: Float32Array; settlingS: number; convolver: Convolver; gain: Gain; fader: Fader }

/**
 * Makes a lane whose response is a unit impulse until another is set. A convolver's response is never exchanged in
 * place: the next one runs unheard until it has settled, is faded in while the old one is faded out, and the old one
 * is given back. Responses that arrive meanwhile wait, and the newest follows.
 *
 * @param wiring  context and clock, the node to take the signal from, and whether anything is heard now
 */
export function createResponseLane(wiring: {
  context: Context
  clock: SoundClock
  input: Gain
  isHeard: () => boolean
}): ResponseLane {
  const { context, clock, input, isHeard } = wiring
  const output = new Gain({ context })
  // Counts the changes, so that a callback of an abandoned one can tell.
  let change = 0
  let incoming: Branch | undefined
  let waiting: Float32Array | undefined

  const makeBranch = (response: Float32Array, gain: number): Branch => {
    const settlingS = settlingTimeS(response, context.sampleRate)
    // The buffer comes after the constructor: given to it, it would be set before `normalize` is switched off.
    const convolver = new Convolver({ context, normalize: false })
    convolver.buffer = monoBuffer(context, response)
    const faded = new Gain({ context, gain })
    const fader = createFader({ param: faded.gain, clock, gain, rampS: swapS })
    input.connect(convolver)
    convolver.connect(faded)
    faded.connect(output)
    return { response, settlingS, convolver, gain: faded, fader }
  }

  const disposeBranch = (branch: Branch): void => {
    input.disconnect(branch.convolver)
    branch.convolver.dispose()
    branch.gain.dispose()
  }

  let sounding = makeBranch(new Float32Array([1]), 1)

  const newestResponse = (): Float32Array => waiting ?? incoming?.response ?? sounding.response

  const bringIn = (response: Float32Array): void => {
    const present = ++change
    const next = makeBranch(response, 0)
    incoming = next
    clock.callAt(clock.nowS() + next.settlingS, () => {
      if (present !== change) return
      const doneS = next.fader.fadeTo(1)
      sounding.fader.fadeTo(0)
      callAfter(clock, doneS, () => {
        if (present !== change) return
        disposeBranch(sounding)
        sounding = next
        incoming = undefined
        const following = waiting
        waiting = undefined
        if (following && !sameSamples(following, sounding.response)) bringIn(following)
      })
    })
  }

  const replace = (response: Float32Array): void => {
    change++
    if (incoming) disposeBranch(incoming)
    disposeBranch(sounding)
    incoming = undefined
    waiting = undefined
    sounding = makeBranch(response, 1)
  }

  return {
    output,
    get ringS() {
      return Math.max(sounding.settlingS, incoming?.settlingS ?? 0)
    },
    set(response) {
      if (sameSamples(response, newestResponse())) return
      const own = new Float32Array(response)
      if (!isHeard()) replace(own)
      else if (incoming) waiting = own
      else bringIn(own)
    },
    settle() {
      if (incoming) replace(newestResponse())
    },
    flush: () => replace(newestResponse()),
    dispose() {
      change++
      if (incoming) disposeBranch(incoming)
      disposeBranch(sounding)
      output.dispose()
    },
  }
}

/** Whether two responses are the same sample by sample. */
function sameSamples(a: Float32Array, b: Float32Array): boolean {
  return a === b || (a.length === b.length && a.every((sample, index) => sample === b[index]))
}
