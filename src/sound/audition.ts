import { createAuditionGraph } from './audition-graph.ts'
import type { Audition, AuditionSignal, Matching, PlaceGainsDb, PlaceResponses } from './audition-types.ts'
import { startVolumeDb } from './audition-types.ts'
import { placeGains, volumeGain } from './gain.ts'
import type { LoopedSource } from './looped-source.ts'
import { startLoop } from './looped-source.ts'
import type { LoudnessMatch } from './loudness-match.ts'
import { createLoudnessMatch, requireFrontLevel } from './loudness-match.ts'
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
}

/**
 * Builds what a reader listens through (see `createAuditionGraph`). It begins with pink noise, the ear at `here`, both
 * responses a unit impulse, true levels, the volume at −24 dB, and silent. Without a context of your own call this in
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
    const { audition, letGo } = buildAudition({ sound, loopOf, signal, samples })
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

/**
 * The audition in its context, and how it lets go of a sound that is not there any more or has never come. Longer than a
 * hundred lines, because every call shares the few variables of one audition; what it plays through stands in the graph.
 */
function buildAudition(wiring: {
  sound: SoundContext
  loopOf: (signal: AuditionSignal) => Promise<Float32Array>
  signal: AuditionSignal
  samples: Float32Array
}): { audition: Audition; letGo: () => void } {
  const { sound, loopOf } = wiring
  const { context, clock, sampleRateHz } = sound
  let { signal: wantedSignal, samples } = wiring
  const voices = new Set<LoopedSource>()
  const isHeard = (): boolean => voices.size > 0
  let voice: LoopedSource | undefined
  let disposed = false

  let place: 'here' | 'front' = 'here'
  let gainsDb: PlaceGainsDb = { here: 0, front: 0 }
  let matching: Matching | undefined
  let responses: PlaceResponses = { here: new Float32Array([1]), front: new Float32Array([1]) }
  const graph = createAuditionGraph({
    context,
    clock,
    placeGains: placeGains(place, gainsDb),
    volumeGain: volumeGain(startVolumeDb),
    isHeard,
  })

  const beginVoice = (): void => {
    voice = startLoop({ context, clock, samples, output: graph.input })
    voices.add(voice)
  }

  /** Lets the present voice fade out, and the responses ring out behind it. */
  const endVoice = (): void => {
    const ending = voice
    voice = undefined
    if (!ending) return
    callAfter(clock, ending.fadeOut() + graph.ringS, () => {
      // Broken off meanwhile.
      if (!voices.delete(ending)) return
      ending.dispose()
      if (!isHeard()) fallSilent()
    })
  }

  /** Ends everything that sounds at once, without a fade: for when nothing is heard anyway. */
  const breakOff = (): void => {
    for (const sounding of voices) sounding.dispose()
    voices.clear()
    voice = undefined
  }

  const fallSilent = (): void => {
    if (disposed) {
      tearDown()
      return
    }
    graph.settle()
    sound.sleep()
  }

  const tearDown = (): void => {
    breakOff()
    graph.dispose()
    sound.close()
  }

  const letGo = (): void => {
    breakOff()
    disposed ||= sound.closed
    if (disposed) tearDown()
    else graph.settle()
  }

  // Binning a loop's spectrum takes a fifth of a second, so it is done once, and only for who matches.
  const matches = new Map<Float32Array, LoudnessMatch>()
  const matchOf = (loop: Float32Array): LoudnessMatch => {
    const known = matches.get(loop) ?? createLoudnessMatch(loop, sampleRateHz)
    matches.set(loop, known)
    return known
  }
  const match = (): void => {
    gainsDb = matching?.matched ? matchOf(samples).gainsDb(responses, matching.frontLevelDbA) : { here: 0, front: 0 }
    graph.setPlaceGains(placeGains(place, gainsDb))
  }

  const audition: Audition = {
    sampleRateHz,
    get playing() {
      return voice !== undefined
    },
    get disposed() {
      return disposed
    },
    setResponses(next: PlaceResponses) {
      if (disposed) return
      // Both are checked before either is taken.
      settlingTimeS(next.here, sampleRateHz)
      settlingTimeS(next.front, sampleRateHz)
      graph.setResponses(next)
      responses = { here: new Float32Array(next.here), front: new Float32Array(next.front) }
      match()
    },
    async setSignal(signal) {
      if (disposed) return
      wantedSignal = signal
      const wanted = await loopOf(signal)
      // Another call may have come while the loop was being made.
      if (disposed || wantedSignal !== signal || wanted === samples) return
      samples = wanted
      match()
      if (!voice) return
      endVoice()
      beginVoice()
    },
    setPlace(next) {
      if (disposed) return
      place = next
      graph.setPlaceGains(placeGains(place, gainsDb))
    },
    setMatching(next) {
      if (disposed) return
      requireFrontLevel(next.frontLevelDbA)
      matching = { ...next }
      match()
    },
    setVolumeDb(volumeDb) {
      if (!disposed) graph.setVolumeGain(volumeGain(volumeDb))
    },
    async start() {
      if (disposed) return
      if (!voice) beginVoice()
      try {
        await sound.wake()
      } catch (error) {
        letGo()
        throw error
      }
    },
    stop() {
      if (disposed) return
      if (!sound.stands) return endVoice()
      breakOff()
      fallSilent()
    },
    dispose() {
      if (disposed) return
      disposed = true
      endVoice()
      if (!isHeard() || sound.stands) tearDown()
    },
  }
  return { audition, letGo }
}
