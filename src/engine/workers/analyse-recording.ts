import { type BlockLevels, joinedBlocks } from '../../acoustics/index.ts'
import type { Refused, Take } from '../questions/compare/compare-terms.ts'
import type { RecordingPlan } from '../questions/compare/recording.ts'
import type { Answer, Question, TaskName } from './tasks.ts'

/** What the work needs of whoever asks: one question, many as one piece of work, and to say how far it is. */
export type RecordingWork = {
  ask<N extends TaskName>(task: N, question: Question<N>): Promise<Answer<N> | undefined>
  askEach<N extends TaskName>(
    task: N,
    questions: Question<N>[],
    onAnswer: (answer: Answer<N>, index: number) => void,
  ): Promise<boolean>
  progress(done: number, total: number): void
}

/** A recording that was taken in: how it is stored, and what is kept of it. */
export type AnalysedRecording = { kind: 'analysed'; plan: RecordingPlan; take: Take }

/**
 * Analyses a recording off the main thread, stretch by stretch, both workers at once. The file itself never leaves the device, nor is
 * it ever whole in memory.
 *
 * @param work      of a figure, or of an engine and a channel of it
 * @param file      a WAV file
 * @param channels  which of its channels are wanted, one or two, from 0; the first two (or the only one) unless given
 * @returns  what is kept of it, or why it is refused; undefined when a newer question has ended the work
 */
export async function analyseRecording(
  work: RecordingWork,
  file: Blob,
  channels?: number[],
): Promise<AnalysedRecording | Refused | undefined> {
  const plan = await work.ask('recordingPlan', { file })
  if (!plan || plan.kind === 'refused') return plan
  const { layout, stretches } = plan
  const wanted = channels ?? Array.from({ length: Math.min(2, layout.channelCount) }, (_, channel) => channel)
  const parts: BlockLevels[] = []
  let refused: Refused | undefined
  let done = 0
  work.progress(0, stretches.length)
  const isWhole = await work.askEach(
    'recordingPart',
    stretches.map((stretch) => ({ file, layout, channels: wanted, stretch })),
    (part, index) => {
      if (part.kind === 'refused') refused ??= part
      else {
        const { kind: _, ...levels } = part
        parts[index] = levels
      }
      done += 1
      work.progress(done, stretches.length)
    },
  )
  if (refused) return refused
  if (!isWhole) return undefined
  const take = await work.ask('takeSummary', { levels: joinedBlocks(parts) })
  return take && { kind: 'analysed', plan, take }
}
