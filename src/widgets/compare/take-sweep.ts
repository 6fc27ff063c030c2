import type { Rig } from '../../acoustics/index.ts'
import type { PracticeSweepTruth } from '../../engine/questions/compare/practice-sweep.ts'
import { refusedWords } from '../../engine/questions/compare/refused.ts'
import type { AirState } from '../../engine/scene/air.ts'
import type { HallDesign } from '../../engine/scene/hall-scene.ts'
import type { RecordingWork } from '../../engine/workers/analyse-recording.ts'
import { analyseSweep } from '../../engine/workers/analyse-sweep.ts'
import * as say from './compare.messages.ts'
import type { SweptAt } from './kept-sweep.ts'
import type { Wanted } from './kept-test.ts'

/** A file of the reader's, and for which place. */
export type GivenFile = { wanted: Wanted; file: Blob; name: string; size: number; lastModified: number }
/** What is taken in of sweeps: a recording of the reader's, or the one of the practice set. */
export type SweepJob = { step: 'sweep'; nr: number } & (({ kind: 'recording' } & GivenFile) | { kind: 'practice' })

/** What was measured by sweeps, at one place or both. */
export type TakenSweep = { measured: { front?: SweptAt; behind?: SweptAt }; truth: PracticeSweepTruth | null }

type PracticeSet = { rig: Rig; hall: HallDesign; air: AirState; seed: number }

/**
 * Takes a recording of sweeps in: the reader's, or the practice recording, which is made as a file and goes the way of every file.
 *
 * @returns  why it is not taken, in words; undefined if it was ended
 */
export async function takeSweep(
  asking: RecordingWork,
  job: SweepJob,
  practice: PracticeSet | undefined,
): Promise<TakenSweep | string | undefined> {
  if (job.kind === 'recording') return takeFile(asking, job)
  const made = practice && (await asking.ask('practiceSweepFile', practice))
  if (!made) return undefined
  const file = new Blob([made.wav], { type: 'audio/wav' })
  const taken = await takeFile(asking, { file, name: say.practiceSweepName(), wanted: 'both' })
  return typeof taken === 'object' ? { ...taken, truth: made.truth } : taken
}

async function takeFile(
  asking: RecordingWork,
  { file, name, wanted }: Pick<GivenFile, 'file' | 'name' | 'wanted'>,
): Promise<TakenSweep | string | undefined> {
  const analysed = await analyseSweep(asking, file, wanted === 'both' ? 2 : 1)
  if (!analysed) return undefined
  const refused = (reason: string) => say.refused({ name, reason })
  if (analysed.kind === 'refused') return refused(refusedWords(analysed.problem))
  const [first, second] = analysed.places
  if (!first) return undefined
  if (wanted !== 'both') return { measured: { [wanted]: { name, place: first } }, truth: null }
  if (!second) return refused(say.oneChannel())
  return { measured: { front: { name, place: first }, behind: { name, place: second } }, truth: null }
}
