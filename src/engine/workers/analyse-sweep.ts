import type { Refused } from '../questions/compare/compare-terms.ts'
import type { SweptResponse } from '../questions/compare/sweep.ts'
import type { SweptPlace } from '../questions/compare/sweep-terms.ts'
import type { RecordingWork } from './analyse-recording.ts'

/** A recording of sweeps that was taken in: one place a channel that was wanted. */
export type AnalysedSweep = { kind: 'analysed'; places: SweptPlace[]; channelCount: number }

/**
 * Analyses a recording of sweeps off the main thread: one response after the other, because the second takes the clock of the first, then what
 * both say, at once.
 *
 * @param work      of a figure, or of an engine and a channel of it
 * @param file      a WAV file
 * @param wanted    how many of its channels, at most: 2 for both places, 1 for one
 * @returns  what is kept of it, or why it is refused; undefined when a newer question has ended the work
 */
export async function analyseSweep(
  work: RecordingWork,
  file: Blob,
  wanted: 1 | 2,
): Promise<AnalysedSweep | Refused | undefined> {
  const plan = await work.ask('sweptPlan', { file })
  if (!plan || plan.kind === 'refused') return plan
  const { layout } = plan
  const of = Math.min(wanted, layout.channelCount)
  const total = 2 * of
  let done = 0
  const responses: SweptResponse[] = []
  for (let channel = 0; channel < of; channel++) {
    work.progress(done, total)
    const places = responses[0]?.places ?? null
    const response = await work.ask('sweptResponse', { file, layout, channel, of, places })
    if (!response || response.kind === 'refused') return response
    responses.push(response)
    done += 1
  }
  work.progress(done, total)
  const places: SweptPlace[] = []
  const isWhole = await work.askEach('sweptPlace', responses, (place, channel) => {
    places[channel] = place
    done += 1
    work.progress(done, total)
  })
  return isWhole ? { kind: 'analysed', places, channelCount: layout.channelCount } : undefined
}
