import { createLoopPeak } from '../acoustics/signals/loop-peak.ts'
import { type ArrivingPeak, arrivingPeak } from './arriving-peak.ts'
import { createAuditionGraph } from './audition-graph.ts'
import type { Audition, AuditionSignal, Matching, PlaceGainsDb, PlaceResponses } from './audition-types.ts'
import { startVolumeDb } from './audition-types.ts'
import { createVoices } from './audition-voices.ts'
import { raisedGain, volumeGain } from './gain.ts'
import { createLoudnessMatch, requireFrontLevel } from './loudness-match.ts'
import { placeChangeDb } from './place-change.ts'
import { createSafeLevel } from './safe-level.ts'
import { settlingTimeS } from './settling-time.ts'
import { createLoopStore } from './signal-loop.ts'
import { callAfter } from './sound-clock.ts'
import { openSoundContext, type SoundContext } from './sound-context.ts'

export type { Audition, AuditionPlace, AuditionSignal, Matching, PlaceResponses } from './audition-types.ts'

/** What an audition may be given. */
export type AuditionOptions = {
  /** An audio context to build in; without one a live context is made. */
  context?: OfflineAudioContext | AudioContext
  /** Signal to begin with; pink noise unless given. */
  signal?: AuditionSignal
  /** Called in the reader's words when the sound is taken away while it plays; it has been stopped then. */
  onTaken?: (words: string) => void
  /** Called with `turnedDownDb` whenever it changes. */
  onTurnedDown?: (decibels: number) => void
}

/**
 * Builds what a reader listens through (see `createAuditionGraph`). It begins with pink noise, the ear at `here`, both
 * responses a unit impulse, true levels, the volume at `startVolumeDb`, and silent. Without a context of your own call this in
 * answer to a press.
 *
 * @throws Error (as a rejection) if the browser has no Web Audio or the loop of the signal cannot be made
 */
export async function createAudition(options: AuditionOptions = {}): Promise<Audition> {
  let taken = (_words: string): void => {}
  const sound = openSoundContext({ given: options.context, onTaken: (words) => taken(words) })
  const loopOf = createLoopStore(sound.sampleRateHz)
  const signal = options.signal ?? 'pink-noise'
  try {
    const samples = await loopOf(signal)
    const { audition, letGo } = buildAudition({ sound, loopOf, signal, samples, onTurnedDown: options.onTurnedDown })
    taken = (words) => {
      // Fading out for the last time: nobody is left to be told.
      const isOver = audition.disposed
      letGo()
      if (!isOver) options.onTaken?.(words)
    }
    return audition
  } catch (error) {
    // Browsers allow a page only a handful of contexts.
    sound.close()
    throw error
  }
}

/** What is worked out of a loop once, and only for who needs it: a fifth of a second of binning, a transform of all of it. */
function keptOf<T>(make: (loop: Float32Array) => T): (loop: Float32Array) => T {
  const kept = new Map<Float32Array, T>()
  return (loop) => {
    const known = kept.get(loop) ?? make(loop)
    kept.set(loop, known)
    return known
  }
}

/**
 * The audition in its context, and how it lets go of a sound that is not there any more or has never come. Longer than a
 * hundred lines, because every call shares the few variables of one audition; what it plays through stands in the graph, what it
 * plays in the voices, and how loud in the level.
 */
function buildAudition(wiring: {
  sound: SoundContext
  loopOf: (signal: AuditionSignal) => Promise<Float32Array>
  signal: AuditionSignal
  samples: Float32Array
  onTurnedDown: ((decibels: number) => void) | undefined
}): { audition: Audition; letGo: () => void } {
  const { sound, loopOf } = wiring
  const { context, clock, sampleRateHz } = sound
  let { samples } = wiring
  let wantedSignal: AuditionSignal | Float32Array = wiring.signal
  let disposed = false
  let matching: Matching | undefined
  let responses: PlaceResponses = { here: new Float32Array([1]), front: new Float32Array([1]) }
  const matchOf = keptOf((loop) => createLoudnessMatch(loop, sampleRateHz))
  const peakOf = keptOf(createLoopPeak)
  const arriving = (): ArrivingPeak => {
    const loop = samples
    return arrivingPeak(loop, (response) => peakOf(loop)(response), responses)
  }

  const isHeard = (): boolean => voices.heard
  const graph = createAuditionGraph({ context, clock, isHeard })
  const voices = createVoices({
    context,
    clock,
    output: graph.input,
    ringS: () => graph.ringS,
    onSilent: () => fallSilent(),
  })
  const level = createSafeLevel({
    clock,
    arriving: arriving(),
    volumeGain: volumeGain(startVolumeDb),
    isHeard,
    play: graph.setPlaceGains,
    onTurnedDown: (decibels) => wiring.onTurnedDown?.(decibels),
  })

  const fallSilent = (): void => {
    if (disposed) {
      tearDown()
      return
    }
    settle()
    sound.sleep()
  }
  const settle = (): void => {
    bringInResponses(responses)
    graph.settle()
    level.settle()
  }
  const tearDown = (): void => {
    voices.breakOff()
    cutting?.end()
    graph.dispose()
    sound.close()
  }
  /** Silence that is being reached, and what waits for it. */
  let cutting: { done: Promise<void>; end: () => void } | undefined
  const endCut = (): void => {
    if (!cutting) return
    cutting.end()
    cutting = undefined
    graph.unhush()
  }
  const letGo = (): void => {
    voices.breakOff()
    endCut()
    disposed ||= sound.closed
    if (disposed) tearDown()
    else settle()
  }
  const matchingGainsDb = (): PlaceGainsDb =>
    matching?.matched ? matchOf(samples).gainsDb(responses, matching.frontLevelDbA) : { here: 0, front: 0 }
  // Responses for which the level still comes down; what is older than those that are brought in is passed over.
  let waiting: PlaceResponses[] = []
  const bringInResponses = (next: PlaceResponses): void => {
    const turn = waiting.indexOf(next)
    if (disposed || turn < 0) return
    waiting = waiting.slice(turn + 1)
    graph.setResponses(next)
  }
  const bringInSignal = (): void => {
    if (voices.present && voices.present !== samples) voices.begin(samples)
  }

  const audition: Audition = {
    sampleRateHz,
    get playing() {
      return voices.present !== undefined
    },
    get disposed() {
      return disposed
    },
    get turnedDownDb() {
      return level.turnedDownDb
    },
    setResponses(next: PlaceResponses) {
      if (disposed) return
      // Both are checked before either is taken.
      settlingTimeS(next.here, sampleRateHz)
      settlingTimeS(next.front, sampleRateHz)
      const own = { here: new Float32Array(next.here), front: new Float32Array(next.front) }
      responses = own
      waiting.push(own)
      level.admit({ arriving: arriving(), gainsDb: matchingGainsDb(), bringIn: () => bringInResponses(own) })
    },
    async setSignal(signal) {
      if (disposed) return
      wantedSignal = signal
      const wanted = typeof signal === 'string' ? await loopOf(signal) : signal
      // Another call may have come while the loop was being made.
      if (disposed || wantedSignal !== signal || wanted === samples) return
      samples = wanted
      level.admit({ arriving: arriving(), gainsDb: matchingGainsDb(), over: true, bringIn: bringInSignal })
    },
    setPlace(next) {
      if (!disposed) level.setPlace(next)
    },
    setMatching(next) {
      if (disposed) return
      requireFrontLevel(next.frontLevelDbA)
      matching = { ...next }
      level.setGainsDb(matchingGainsDb())
    },
    changeDb() {
      const { here, front } = matchingGainsDb()
      const { bassDb, middleDb, trebleDb } = placeChangeDb(responses, sampleRateHz)
      const matchedDb = here - front
      return { bassDb: bassDb + matchedDb, middleDb: middleDb + matchedDb, trebleDb: trebleDb + matchedDb }
    },
    setVolumeDb(volumeDb, raisedDb = 0) {
      if (!disposed) level.setVolumeGain(volumeGain(volumeDb) * raisedGain(raisedDb))
    },
    async start() {
      await cutting?.done
      if (disposed) return
      if (!voices.present) {
        // At once, for the one before is fading already.
        level.admit({ arriving: arriving(), gainsDb: matchingGainsDb(), over: true, bringIn: () => {} })
        voices.begin(samples)
      }
      try {
        await sound.wake()
      } catch (error) {
        letGo()
        throw error
      }
    },
    stop() {
      if (disposed) return
      if (!sound.stands) return voices.end()
      voices.breakOff()
      fallSilent()
    },
    cut() {
      if (disposed || cutting || !voices.heard) return
      if (sound.stands) return audition.stop()
      let end = (): void => {}
      const done = new Promise<void>((resolve) => {
        end = resolve
      })
      const present = { done, end }
      cutting = present
      voices.end()
      callAfter(clock, graph.hush(), () => {
        // Broken off meanwhile.
        if (cutting !== present) return
        voices.breakOff()
        endCut()
        fallSilent()
      })
    },
    peak: () => (disposed ? 0 : graph.peak()),
    dispose() {
      if (disposed) return
      disposed = true
      voices.end()
      if (!voices.heard || sound.stands) tearDown()
    },
  }
  return { audition, letGo }
}
