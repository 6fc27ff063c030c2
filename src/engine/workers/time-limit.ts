import { requireInRange } from '../../acoustics/numeric-range.ts'
import * as say from './time-limit.messages.ts'

/** Longest wait that a browser's timer can count, s: 2³¹ − 1 ms. */
const longestLimitS = 2_147_483

/** Something did not come within its time. Its message is a whole sentence for the reader. */
export class TimeLimitError extends Error {
  override readonly name = 'TimeLimitError'
}

/**
 * Waits for a promise, but not for ever. What is waited for goes on in the background; whatever it becomes after the limit
 * is dropped, so who must give something back then (a context, a worker) does so when this rejects.
 *
 * @param promise  what is waited for
 * @param limitS   s, above 0
 * @param what     what takes time, in the reader's words, as a sentence begins: 'Making the sound'
 * @returns  what the promise gives
 * @throws   as a rejection: whatever the promise rejects with, or TimeLimitError 'Making the sound took longer than 30 seconds.'
 * @throws   as a rejection: RangeError if limitS is 0 or less, or more than a timer can count
 */
export async function withTimeLimit<T>(promise: Promise<T>, limitS: number, what: string): Promise<T> {
  requireInRange('limitS', limitS, { above: 0, max: longestLimitS, unit: 's' })
  return new Promise<T>((resolve, reject) => {
    const timer = setTimeout(() => {
      reject(new TimeLimitError(say.tookTooLong({ what, limitS })))
    }, limitS * 1000)
    promise.then(resolve, reject).finally(() => clearTimeout(timer))
  })
}
