import { type Rig, writeWav } from '../../../acoustics/index.ts'
import type { InAir } from '../../scene/air.ts'
import { practiceTake } from './practice.ts'
import type { PracticeName, PracticeTruth } from './practice-terms.ts'

/** A practice recording as the recorder would have stored it: a stereo WAV file, front on the left, and what was planted in it. */
export type PracticeFile = {
  wav: Uint8Array<ArrayBuffer>
  truth: PracticeTruth
  /** Of the take with the slow meter: what it showed, dB re full scale, by recordingBands. */
  meterDb: { front: number[]; behind: number[] } | null
}

/**
 * A practice recording as a file, so that it goes the way of every recording.
 *
 * @throws RangeError  as practiceTake
 */
export function practiceFile({
  name,
  seed,
  rig,
  air,
}: InAir & { name: PracticeName; seed: number; rig: Rig }): PracticeFile {
  const { sampleRateHz, front, behind, truth, meterDb } = practiceTake(name, seed, { rig, ...(air && { air }) })
  return { wav: writeWav({ sampleRateHz, channels: [front, behind] }), truth, meterDb: meterDb ?? null }
}
