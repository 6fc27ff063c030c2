import type {
  Audition,
  AuditionPlace,
  AuditionSignal,
  Matching,
  PlaceGainsDb,
  PlaceResponses,
} from './audition-types.ts'
import { startVolumeDb } from './audition-types.ts'
import { createCeiling } from './ceiling-nodes.ts'
import { createFader } from './fader.ts'
import { placeGains, volumeGain } from './gain.ts'
import { ignoreClosed, openLiveContext } from './live-context.ts'
import type { LoopedSource } from './looped-source.ts'
import { startLoop } from './looped-source.ts'
import type { LoudnessMatch } from './loudness-match.ts'
import { createLoudnessMatch, requireFrontLevel } from './loudness-match.ts'
import { createResponseLane } from './response-lane.ts'
import { settlingTimeS } from './settling-time.ts'
import { signalLoop } from './signal-loop.ts'
import { callAfter } from './sound-clock.ts'
import { Gain, openContext } from './tone-nodes.ts'

export type { Audition, AuditionPlace, AuditionSignal, Matching, PlaceResponses } from './audition-types.ts'

/** Length of the cross-fade between the places, and of a change of volume, s. */
const fadeS = 0.04

/**
 * Builds what a reader listens through:
 *
 *   loop → convolver `here`  → gain ┐
 *        → convolver `front` → gain ┴→ volume → ceiling at −1 dBFS → output
 *
 * It begins with pink noise, the ear at `here`, both responses a unit impulse, true levels, the volume at −24 dB, and silent.
 *
 * @param options.context  an audio context to build in; without one a live context is made, so call this in answer to a press
 * @param options.signal   signal to begin with; pink noise unless given
 * @throws Error (as a rejection) if the browser has no Web Audio
 */
export async function createAudition(
  options: { context?: OfflineAudioContext | AudioContext; signal?: AuditionSignal } = {},
): Promise<Audition> {
  const raw = options.context ?? openLiveContext()
  const isLive = !(raw instanceof OfflineAudioContext)
  const { context, clock } = openContext(raw)

  const voices = new Set<LoopedSource>()
  const isHeard = (): boolean => voices.size > 0

  const source = new Gain({ context })
  const lanes = {
    here: createResponseLane({ context, clock, input: source, isHeard }),
    front: createResponseLane({ context, clock, input: source, isHeard }),
  }
  const volume = new Gain({ context, gain: volumeGain(startVolumeDb) })
  const volumeFader = createFader({ param: volume.gain, clock, gain: volumeGain(startVolumeDb), rampS: fadeS })
  const ceiling = createCeiling(context)

  let place: AuditionPlace = 'here'
  let gainsDb: PlaceGainsDb = { here: 0, front: 0 }
  let matching: Matching | undefined
  let responses: PlaceResponses = { here: new Float32Array([1]), front: new Float32Array([1]) }
  const firstGains = placeGains(place, gainsDb)
  const outlet = (at: AuditionPlace) => {
    const gain = new Gain({ context, gain: firstGains[at] })
    lanes[at].output.connect(gain)
    gain.connect(volume)
    return { gain, fader: createFader({ param: gain.gain, clock, gain: firstGains[at], rampS: fadeS }) }
  }
  const outlets = { here: outlet('here'), front: outlet('front') }
  volume.connect(ceiling.input)

  const loops = new Map<AuditionSignal, Promise<Float32Array>>()
  const loopOf = (signal: AuditionSignal): Promise<Float32Array> => {
    const known = loops.get(signal) ?? signalLoop(signal, raw.sampleRate)
    loops.set(signal, known)
    return known
  }

  let wantedSignal = options.signal ?? 'pink-noise'
  let samples = await loopOf(wantedSignal)
  let voice: LoopedSource | undefined
  let disposed = false

  const beginVoice = (): void => {
    voice = startLoop({ context, clock, samples, output: source })
    voices.add(voice)
  }

  /** Lets the present voice fade out, and the responses ring out behind it. */
  const endVoice = (): void => {
    const ending = voice
    voice = undefined
    if (!ending) return
    const ringS = Math.max(lanes.here.ringS, lanes.front.ringS)
    callAfter(clock, ending.fadeOut() + ringS, () => {
      ending.dispose()
      voices.delete(ending)
      if (!isHeard()) fallSilent()
    })
  }

  const applyGains = (): void => {
    const gains = placeGains(place, gainsDb)
    for (const at of ['here', 'front'] as const) {
      if (isHeard()) outlets[at].fader.fadeTo(gains[at])
      else outlets[at].fader.jumpTo(gains[at])
    }
  }

  // Binning a loop's spectrum takes a fifth of a second, so it is done once, and only for who matches.
  const matches = new Map<Float32Array, LoudnessMatch>()
  const matchOf = (loop: Float32Array): LoudnessMatch => {
    const known = matches.get(loop) ?? createLoudnessMatch(loop, raw.sampleRate)
    matches.set(loop, known)
    return known
  }
  const match = (): void => {
    gainsDb = matching?.matched ? matchOf(samples).gainsDb(responses, matching.frontLevelDbA) : { here: 0, front: 0 }
    applyGains()
  }

  const fallSilent = (): void => {
    if (disposed) {
      tearDown()
      return
    }
    lanes.here.settle()
    lanes.front.settle()
    if (isLive) raw.suspend().catch(ignoreClosed)
  }

  const tearDown = (): void => {
    for (const sounding of voices) sounding.dispose()
    voices.clear()
    for (const at of ['here', 'front'] as const) {
      lanes[at].dispose()
      outlets[at].gain.dispose()
    }
    for (const node of [source, volume, ceiling]) node.dispose()
    // A context that was handed in is its owner's to close; only the ticking of its wrapper ends.
    if (options.context) context.clockSource = 'offline'
    else context.dispose()
  }

  return {
    sampleRateHz: raw.sampleRate,
    get playing() {
      return voice !== undefined
    },
    setResponses(next: PlaceResponses) {
      if (disposed) return
      // Both are checked before either is taken.
      settlingTimeS(next.here, raw.sampleRate)
      settlingTimeS(next.front, raw.sampleRate)
      lanes.here.set(next.here)
      lanes.front.set(next.front)
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
      applyGains()
    },
    setMatching(next) {
      if (disposed) return
      requireFrontLevel(next.frontLevelDbA)
      matching = { ...next }
      match()
    },
    setVolumeDb(volumeDb) {
      if (disposed) return
      const gain = volumeGain(volumeDb)
      if (isHeard()) volumeFader.fadeTo(gain)
      else volumeFader.jumpTo(gain)
    },
    start() {
      if (disposed || voice) return
      beginVoice()
      if (isLive) raw.resume().catch(ignoreClosed)
    },
    stop() {
      endVoice()
    },
    dispose() {
      if (disposed) return
      disposed = true
      endVoice()
      // Time stands still in a context that does not run; nothing would ever be called back.
      if (!isHeard() || raw.state !== 'running') tearDown()
    },
  }
}
