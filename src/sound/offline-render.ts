import { createAudition } from './audition.ts'
import type { AuditionPlace, AuditionSignal, Matching, PlaceResponses } from './audition-types.ts'
import { offlineClock } from './sound-clock.ts'

/** Everything that a reader can change while listening. */
export type RenderChange = {
  atS: number
  place?: AuditionPlace
  matching?: Matching
  volumeDb?: number
  responses?: PlaceResponses
  signal?: AuditionSignal
  playing?: boolean
  /** Cut off, because something else is to be heard. */
  cut?: true
}

/** What to listen to, and for how long. Changes take effect at the next render quantum. */
export type RenderSettings = {
  sampleRateHz: number
  durationS: number
  signal: AuditionSignal
  place: AuditionPlace
  responses: PlaceResponses
  matching?: Matching
  volumeDb: number
  changes?: RenderChange[]
}

/**
 * What leaves the audition, rendered faster than time through the graph that a reader listens to: the same function
 * builds both, and changes are made by the same calls in the middle of the rendering.
 *
 * @param settings  see the type; times in s from the start of playing, levels in dB
 * @returns  samples re digital full scale, one channel
 * @throws   RangeError (as a rejection) for settings that the audition refuses
 */
export async function renderAudition(settings: RenderSettings): Promise<Float32Array> {
  const { sampleRateHz, durationS, changes = [] } = settings
  const context = new OfflineAudioContext(1, Math.round(durationS * sampleRateHz), sampleRateHz)
  const audition = await createAudition({ context, signal: settings.signal })
  const apply = async (change: Omit<RenderChange, 'atS'>): Promise<void> => {
    if (change.responses) audition.setResponses(change.responses)
    if (change.matching) audition.setMatching(change.matching)
    if (change.place) audition.setPlace(change.place)
    if (change.volumeDb !== undefined) audition.setVolumeDb(change.volumeDb)
    if (change.signal) await audition.setSignal(change.signal)
    if (change.cut) audition.cut()
    if (change.playing !== undefined) audition[change.playing ? 'start' : 'stop']()
  }
  const { place, responses, matching, volumeDb } = settings
  await apply({ place, responses, volumeDb, playing: true, ...(matching && { matching }) })
  for (const change of changes) offlineClock(context).callAt(change.atS, () => apply(change))
  const rendered = await context.startRendering()
  audition.dispose()
  return rendered.getChannelData(0)
}
