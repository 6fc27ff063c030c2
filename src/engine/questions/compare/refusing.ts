import { RecordingError } from '../../../acoustics/index.ts'
import type { Refused } from './compare-terms.ts'

/** Turns what is wrong with a file into an answer. */
export async function refusing<T>(work: () => T | Promise<T>): Promise<T | Refused> {
  try {
    return await work()
  } catch (error) {
    if (error instanceof RecordingError) return { kind: 'refused', problem: error.problem }
    throw error
  }
}
