import { TimeLimitError, withTimeLimit } from '../engine/workers/time-limit.ts'
import type { PlaceResponses } from './audition-types.ts'
import * as say from './sound.messages.ts'
import { soundLimitsS } from './sound-limits.ts'

/**
 * Waits for the responses of both places.
 *
 * @param asked  what the figure has been asked for
 * @returns  the responses; undefined if a newer question has taken this one's place
 * @throws   as a rejection: Error in the reader's words if they cannot be had or take too long
 */
export async function placeResponses(asked: Promise<PlaceResponses | undefined>): Promise<PlaceResponses | undefined> {
  try {
    return await withTimeLimit(asked, soundLimitsS.responses, say.makingPlaces())
  } catch (error) {
    if (error instanceof TimeLimitError) throw error
    throw new Error(say.placesNotMade({ reason: error instanceof Error ? error.message : String(error) }))
  }
}
