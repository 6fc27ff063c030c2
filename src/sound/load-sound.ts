import { withTimeLimit } from '../engine/workers/time-limit.ts'
import * as say from './load-sound.messages.ts'
import { soundLimitsS } from './sound-limits.ts'

/**
 * Waits for a part of the sound code, which is fetched in answer to a press.
 *
 * @param code  the import
 * @returns  the module
 * @throws   as a rejection: Error in the reader's words if it cannot be had or takes too long
 */
export async function loadSound<T>(code: Promise<T>): Promise<T> {
  try {
    return await withTimeLimit(code, soundLimitsS.code, say.loading())
  } catch {
    // Some browsers remember a failed import until the page is loaded again.
    throw new Error(say.notLoaded())
  }
}
